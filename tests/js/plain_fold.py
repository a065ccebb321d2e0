"""A second fold of a log, written directly from the rules. It uses no code of the rooms that fold the log on the server.

The writer of the log knows which bodies fit. Only the closing of a single day is the core's own function.
"""

from collections import defaultdict
from datetime import date, datetime, timedelta
from typing import Any

from webapp.dosing.closing import close_day
from webapp.dosing.dose import dose
from webapp.dosing.hand import by_hand
from webapp.dosing.plan import Plan, carry_over, start_state
from webapp.dosing.release import Return, released
from webapp.dosing.responses import classify

DAY = timedelta(days=1)
EASES = {1: 0, 0.75: 1, 0.5: 2}
SHARP = 8
TROUBLES = ("sharp", "flared", "flared_idle")


def corrected_entries(log: Any) -> list[dict[str, Any]]:
    """Return the sessions, mornings, warnings and sport of a log with corrections applied."""
    by_id = {event["id"]: event for event in log.events if event["id"] not in log.misfits}
    last: dict[str, dict[str, Any]] = {}
    said: dict[str, dict[str, dict[str, Any]]] = {}
    fixes = [event for event in by_id.values() if event["id"] in log.fixes and event["body"]["replaces"] in by_id]
    for fix in sorted(fixes, key=lambda event: (event["seq"], event["id"])):
        name, body = fix["body"]["replaces"], fix["body"].get("body")
        entry = by_id[name]
        stopped = said.setdefault(name, dict.fromkeys(_stops(entry, entry["body"]), entry))
        after = _stops(entry, body)
        if all(_is_of_its_day(fix, each) for arm in set(stopped) - after for each in (entry, stopped[arm])):
            last[name], said[name] = fix, {arm: stopped.get(arm, fix) for arm in after}
    found = []
    for event in by_id.values():
        if event["kind"] in ("session_finished", "morning_reported", "warning_raised", "exposure_noted"):
            body = last[event["id"]]["body"].get("body") if event["id"] in last else event["body"]
            if body is not None:
                found.append({**event, "on": date.fromisoformat(event["on"]), "body": body})
    return found


def _is_of_its_day(fix: dict[str, Any], entry: dict[str, Any]) -> bool:
    """A correction names the entry's day, and was made from an hour before it to a day and a half after it."""
    hours = (datetime.fromisoformat(fix["at"]) - datetime.fromisoformat(entry["at"])).total_seconds() / 3600
    return fix["on"] == entry["on"] and -1 <= hours <= 36


def _stops(entry: dict[str, Any], body: dict[str, Any] | None) -> set[str]:
    """Return the arms that an entry with this body stops by itself."""
    if body is None or entry["kind"] not in (
        "session_finished",
        "morning_reported",
        "warning_raised",
        "exposure_noted",
    ):
        return set()
    if entry["kind"] == "exposure_noted" and (body["what"] != "sport" or "step" not in body):
        return set()
    if entry["kind"] == "warning_raised":
        return set(body["arms"]) if body.get("holds", True) else set()
    by_arm = body["arms"].items()
    ratings = {arm: max(own.get("worst") or 0, own.get("pain", 0)) for arm, own in by_arm}
    return {arm for arm, own in by_arm if own.get("sharp") or ratings[arm] >= SHARP}


def report_of(event: dict[str, Any], arm: str) -> dict[str, Any] | None:
    """Return an entry's report of an arm, or None."""
    if event["kind"] == "warning_raised":
        holds = event["body"].get("holds", True)
        return {"sharp": True} if holds and arm in event["body"]["arms"] else None
    own: dict[str, Any] | None = event["body"].get("arms", {}).get(arm)
    if own is not None and event["kind"] == "exposure_noted":
        own = {**own, "up": event["body"].get("up", False) or event["body"].get("amount") == "more"}
    return own


def spoken_of(event: dict[str, Any]) -> date:
    """Return the day that an entry is about: a morning report is about the day before."""
    on: date = event["on"]
    return on - DAY if event["kind"] == "morning_reported" else on


def sharp_entries(log: Any, arm: str) -> dict[str, date]:
    """Return every entry that makes its day sharp by itself, and that day."""
    found = {}
    for event in corrected_entries(log):
        own = report_of(event, arm)
        if own and (own.get("sharp") or (own.get("worst") or 0) >= SHARP or own.get("pain", 0) >= SHARP):
            found[event["id"]] = spoken_of(event)
    return found


def releases(log: Any, arm: str) -> dict[date, Return]:
    """The releases that count, by day: the lowest rung, then the smallest range."""
    sharp, found = sharp_entries(log, arm), defaultdict(list)
    for event in log.events:
        if event["kind"] == "hold_released" and event["id"] not in log.misfits and arm in event["body"]["arms"]:
            release, on = event["body"]["arms"][arm], date.fromisoformat(event["on"])
            if all(day >= on or id_ in release["covers"] for id_, day in sharp.items()):
                found[on].append((release["rung"], -EASES[release["range"]]))
    return {on: Return(min(chosen)[0], -min(chosen)[1]) for on, chosen in found.items()}


class Days:
    """The reports of one arm, day by day."""

    def __init__(self, log: Any, arm: str) -> None:
        self.entries: dict[date, list[tuple[str, dict[str, Any]]]] = defaultdict(list)
        for event in corrected_entries(log):
            own = report_of(event, arm)
            if own is not None:
                self.entries[spoken_of(event)].append((event["kind"], own))

    def of(self, kind: str, day: date) -> list[dict[str, Any]]:
        return [own for each, own in self.entries.get(day, ()) if each == kind]

    def morning(self, day: date) -> int | None:
        return max((own["pain"] for own in self.of("morning_reported", day)), default=None)

    def before(self, day: date) -> int | None:
        mornings = [self.morning(day - DAY * back) for back in (1, 2, 3)]
        return min((pain for pain in mornings if pain is not None), default=None)

    def is_sharp(self, day: date) -> bool:
        reports = [own for _, own in self.entries.get(day, ())]
        return any(own.get("sharp") or max(own.get("worst") or 0, own.get("pain", 0)) >= SHARP for own in reports)

    def done(self, day: date) -> str:
        shares: dict[str, int] = defaultdict(int)
        sets = [played for own in self.of("session_finished", day) for played in own["sets"]]
        for played in sets:
            shares[played["movement"]] += played["share"] if played["reps"] else 0
        if not any(played["reps"] for played in sets):
            return "none"
        return "enough" if min(shares.values()) >= 800 else "part"

    def is_near_sport(self, day: date) -> bool:
        """Return whether nothing may go up: sport on this day, or the first of a higher step on this day or the two before it."""
        ups = [own["up"] for back in (0, 1, 2) for own in self.of("exposure_noted", day - DAY * back)]
        return bool(self.of("exposure_noted", day)) or any(ups)

    def response(self, plan: Plan, day: date, *, asks: bool) -> str:
        """Return how a day went; `asks` says whether the day asked for a session."""
        if self.is_sharp(day):
            return "sharp"
        sessions, sport = self.of("session_finished", day), self.of("exposure_noted", day)
        is_part = self.done(day) == "enough" and (not asks or self.is_near_sport(day))
        done = "part" if is_part else self.done(day)
        during = max((own["worst"] for own in [*sessions, *sport] if own.get("worst") is not None), default=None)
        settings = (self.morning(day), self.before(day), plan.client.usual, plan.tuning)
        response = classify(done, during, *settings)
        worked = [own for own in sessions if any(played["reps"] for played in own["sets"])]
        is_unrated = any(own.get("worst") is None for own in worked)
        return classify(done, None, *settings) if is_unrated and response in ("settled", "partly") else response


def work_and_load(plan: Plan, state: Any) -> tuple[float, float]:
    """Return the work in joules and the weight in kilograms that a state asks of a training day."""
    asked_dose = dose(plan, state._replace(mode="training", rest_days=0))
    return asked_dose.work_j, asked_dose.sets[0].load_kg


def pushed(old: Plan, new: Plan, arm: str, state: Any, *, is_bad: bool) -> Any:
    """Return the state with which an arm continues under the second routine. After bad days a rung by hand does not raise it."""
    chosen = new.client.start_rungs.of(arm)
    is_same = chosen is None and (old.routine, old.client.usual) == (new.routine, new.client.usual)
    if is_same and old.client.weights_kg == new.client.weights_kg:
        return state._replace(first_week_stage=new.stage_from(state.rung, state.first_week_stage))
    carried = carry_over(old, new, state)
    if chosen is None:
        return carried
    free = by_hand(new, carried._replace(mode="training", rest_days=0), chosen)
    (work, load), (work_before, load_before) = work_and_load(new, free), work_and_load(old, state)
    is_more = work > work_before * (1 + 1e-9) or load > load_before
    return carried if is_more and is_bad else by_hand(new, carried, chosen)


def fold(log: Any, plans: dict[int, Plan], arm: str, until: date) -> list[tuple[Any, str, tuple[str, ...]]]:
    """For each day after the first up to `until`: the state at its start, the response to the day before, and the reasons."""
    days, freed, version = Days(log, arm), releases(log, arm), 1
    came = {2: log.pushed_on}
    first = min(
        date.fromisoformat(e["on"])
        for e in log.events
        if e["kind"] == "routine_received" and e["body"] == {"version": 1}
    )
    state, found, day, troubled = start_state(plans[1], arm), [], first, []
    if any(days.is_sharp(on) for on in days.entries if on < first):
        state, troubled = close_day(plans[1], state, "sharp").state, [first - DAY]
    state = released(plans[1], state, freed[first]) if state.mode == "held" and first in freed else state
    while day < until:
        plan = plans[version]
        response = days.response(plan, day, asks=state.mode == "training")
        was_held = state.mode == "held"
        state, reasons = close_day(plan, state, response)
        troubled += [day] if response in TROUBLES or (state.mode == "held" and not was_held) else []
        day += DAY
        if version == 1 and came[2] is not None and came[2] <= day:
            version = 2
            is_bad = state.mode == "held" or any(day - each <= DAY * 7 for each in troubled)
            is_bad = is_bad or days.response(plans[2], day, asks=state.mode == "training") in TROUBLES
            state = pushed(plan, plans[2], arm, state, is_bad=is_bad)
        if state.mode == "held" and day in freed:
            state, reasons = released(plans[version], state, freed[day]), ("released",)
        found.append((state, response, reasons))
    return found

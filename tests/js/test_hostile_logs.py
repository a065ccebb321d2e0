"""Hostile logs, folded three times: by the server, by the phone's scripts, and by a plain second fold."""

import json
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from typing import Any

import msgspec
import pytest

from tests.amount import drawn
from tests.js.hostile_logs import ARMS, FIRST, Log, hostile_log
from tests.js.plain_fold import fold, spoken_of
from webapp.dosing.closing import without_gap
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.responses import RESPONSES
from webapp.dosing.returning.go import AWAY, GO_MODES, may_go, step_today
from webapp.dosing.returning.table import go_table
from webapp.dosing.settings import Body, Client, Routine, StartRungs, Tuning
from webapp.dosing.state import MODES
from webapp.events.returning import WayOpened
from webapp.library.shelf import the_shelf
from webapp.records.events import LoggedEvent
from webapp.sync.bundle.bundle import Prescribed, almanac_of, make_bundle
from webapp.sync.folding import anchors
from webapp.sync.folding.checkpoint import Resumed
from webapp.sync.folding.fold import Course
from webapp.sync.folding.returning import WayBack, fold_way
from webapp.sync.folding.switch import Changed
from webapp.sync.log.diary import read_diary
from webapp.sync.phone.way_start import wired_way
from webapp.words import words_for

LOGS = drawn(120, 2000)
BATCH = 500
DAY = timedelta(days=1)
LATER = (0, 1, 4, 16, 30)
MAN = Client(Body(70, 1.75, "male"), ARMS, (0, 0.45359237, 0.90718474), 2)
WOMAN = Client(Body(60, 1.62, "female"), ARMS, (0, 0.5, 1.0, 1.5), 3)
# A new version may bring another usual pain or ceiling; the older version classes the day before it.
PLANS: tuple[tuple[tuple[Tuning, Client], tuple[Tuning, Client]], ...] = (
    ((Tuning(), MAN), (Tuning(climb_days=4), replace(MAN, usual=3))),
    (
        (Tuning(first_week_sessions=1, settled_during=4), WOMAN),
        (Tuning(settled_during=2), replace(WOMAN, weights_kg=(0,))),
    ),
    (
        (Tuning(first_week_sessions=3), replace(MAN, usual=0)),
        (Tuning(), replace(MAN, usual=0, start_rungs=StartRungs(right=9))),
    ),
    # A rung by hand for each arm, which raises most states; and a rung for the left arm as the only change.
    ((Tuning(), replace(MAN, start_rungs=StartRungs(1, 6))), (Tuning(), replace(MAN, start_rungs=StartRungs(12, 8)))),
    ((Tuning(), MAN), (Tuning(), replace(MAN, start_rungs=StartRungs(left=7)))),
)
FOLLOWED = """async (load, { bundles, logs }) => {
  const { armDays } = await load("pure/dose/today.js");
  const { standOn, wayOf } = await load("pure/returning/way.js");
  return logs.map(({ bundle, anchors, events, days }) => days.map((today) => {
    const arms = armDays(bundles[bundle], anchors, events, today);
    const way = wayOf(anchors, today);
    return [...arms.map(({ position, why, changed, responseYesterday, dose }) =>
      [position.row, position.gapDays, position.gapRung, dose.mode, responseYesterday, why, changed]),
      way && standOn(bundles[bundle], way, arms, events, today)];
  }));
}"""


@cache
def plans_of(number: int) -> dict[int, Plan]:
    """Both routine versions of a pair."""
    return {
        at + 1: make_plan(Routine("Hostile", "wrist", tuning), client)
        for at, (tuning, client) in enumerate(PLANS[number])
    }


@dataclass(frozen=True)
class Case:
    """One log, its course on the server, and what a phone has before it follows the log."""

    log: Log
    pair: int
    version: int
    course: Course
    anchors: dict[str, anchors.Anchor]
    opened: WayOpened
    way: WayBack
    days: tuple[date, ...]

    @property
    def bundle(self) -> str:
        """The name of the bundle that the phone has."""
        return f"{self.pair} {self.version}"


def folded(log: Log, events: list[dict[str, Any]], pair: int) -> Course:
    """The server's course of some of a log's events."""
    logged = [LoggedEvent(0, "", "", "", "", json.dumps(event), "") for event in events]
    plans = plans_of(pair)
    return Course(read_diary(logged, plans), plans)


def is_late(log: Log, event: dict[str, Any], on: date) -> bool:
    """Return whether an entry is about the day before the anchor, at `on`, or a later day, and no correction names it."""
    if event["kind"] not in ("session_finished", "morning_reported", "warning_raised", "exposure_noted"):
        return False
    is_corrected = any(
        fix["body"].get("replaces") == event["id"] for fix in log.events if fix["kind"] == "entry_corrected"
    )
    return not is_corrected and spoken_of({**event, "on": date.fromisoformat(event["on"])}) >= on - DAY


def case_of(seed: int) -> Case:
    """Write a log, and give a phone the anchors that the server computes on some day, when it has only a part of the log."""
    dice = random.Random(-seed)  # noqa: S311 - dice for invented diaries, not a secret
    pair, length = seed % len(PLANS), dice.choice((4, 12, 24, 40))
    log = hostile_log(seed, length)
    begin = log.pushed_on or FIRST
    on = begin + DAY * dice.randint(0, max(0, (FIRST + DAY * length - begin).days))
    version = 2 if log.pushed_on else 1
    # Up to three days before the phone's day, so that the phone can decide by itself what a late report changes.
    whole = folded(log, log.events, pair)
    day = anchors.anchor_day(Resumed(whole, whole.first_day(on)), on, version)
    known = [event for event in log.events if not (is_late(log, event, day) and dice.random() < 0.5)]
    early = folded(log, known, pair)
    resumed = Resumed(early, early.first_day(on))
    assert anchors.anchor_day(resumed, on, version) == day
    phone_anchors = anchors.anchors_from(resumed, day, version)
    days = tuple(on + DAY * later for later in LATER)
    opened = WayOpened("hard_grip", dice.randint(1, 7), FIRST + DAY * dice.randint(1, length), "Ready.", "A name")
    way = fold_way(early, opened, day - DAY)
    return Case(log, pair, version, folded(log, log.events, pair), phone_anchors, opened, way, days)


def server_says(case: Case, arm: str) -> list[list[Any]]:
    """The state, the response to the day before and the reasons, at the start of each of the days."""
    course, last = case.course, case.days[-1]
    accounts, point = course.run(arm, None, course.first_day(last), last)
    point = course.enter(arm, point, last)
    assert point is not None
    states = [*(account.state_before for account in accounts), point.state]
    found = []
    for number in ((on - accounts[0].on).days for on in case.days):
        closed, state = accounts[number - 1], states[number]
        was_held = closed.state_after.mode == "held" != state.mode
        found.append([state, closed.response, ("released",) if was_held else closed.reasons])
    return found


def last_changes(case: Case, arm: str) -> list[dict[str, Any] | None]:
    """The last change of what is asked, at the start of each of the days."""
    course, since, point, changes = case.course, case.course.first_day(case.days[-1]), None, []
    for on in case.days:
        _, point = course.run(arm, point, since, on)
        begun, since = course.enter(arm, point, on), on
        assert begun is not None
        changes.append(changed_object(begun.changed))
    return changes


def plainly(case: Case, arm: str) -> list[list[Any]]:
    """Return the same from the plain fold."""
    found = fold(case.log, plans_of(case.pair), arm, case.days[-1])
    return [list(found[(on - FIRST).days - 1]) for on in case.days]


def shuffled(events: list[dict[str, Any]], seed: int) -> list[dict[str, Any]]:
    """The events in another order, some of them twice."""
    dice = random.Random(seed)  # noqa: S311 - dice for an order, not a secret
    again = dice.sample(events, len(events) // 4)
    return dice.sample([*events, *again], len(events) + len(again))


def bundles_of(cases: list[Case]) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the bundle of each version that a phone has, and the rows of its table; both by the bundle's name."""
    entries: dict[tuple[int, int], set[Any]] = {}
    for case in cases:
        known = entries.setdefault((case.pair, case.version), set())
        known.update(without_gap(state) for state in anchors.new_states(case.anchors))
    rows, bundles = {}, {}
    for (pair, version), states in entries.items():
        prescribed, needed = Prescribed(plans_of(pair)[version], version), tuple(sorted(states, key=repr))
        bundles[f"{pair} {version}"] = make_bundle(prescribed, words_for("en"), the_shelf(), needed)
        rows[f"{pair} {version}"] = almanac_of(prescribed.plan, needed).rows
    return bundles, rows


def wired(anchor: anchors.Anchor, rows: Any) -> dict[str, Any]:
    """Return an anchor as on the wire."""
    eve = {"asked": anchor.has_asked} | ({"cube": anchor.eve_cube} if anchor.eve_cube else {})
    troubled = {"if_troubled": starts(anchor.if_troubled, rows)} if anchor.if_troubled else {}
    return {"on": anchor.on.isoformat(), "mornings": anchor.mornings, **starts(anchor, rows), **eve, **troubled}


def starts(columns: anchors.Anchor | anchors.Starts, rows: Any) -> dict[str, Any]:
    """Return the columns of an anchor as on the wire."""
    return {
        "states": [[rows[without_gap(state)], state.gap_days, state.gap_rung] for state in columns.states],
        "why": columns.why,
        "changed": [changed_object(each) for each in columns.changed],
    }


def changed_object(changed: Changed | None) -> dict[str, Any] | None:
    """Return the last change of the dose as on the wire."""
    return changed and {"on": changed.on.isoformat(), "why": list(changed.why)}


def asked_of_a_phone(case: Case, rows: Any, seed: int) -> dict[str, Any]:
    """Return one case as the scripts get it."""
    way = msgspec.to_builtins(wired_way(case.way))
    phone_anchors = {arm: wired(anchor, rows[case.bundle]) | {"way": way} for arm, anchor in case.anchors.items()}
    days = [on.isoformat() for on in case.days]
    return {"bundle": case.bundle, "anchors": phone_anchors, "events": shuffled(case.log.events, seed), "days": days}


def differences(case: Case, answer: list[Any], rows: Any, seen: Counter[str]) -> Iterator[Any]:
    """Yield every difference of the phone or the plain fold from the server."""
    for number, arm in enumerate(ARMS):
        server, changes = server_says(case, arm), last_changes(case, arm)
        for at, (on, plain) in enumerate(zip(case.days, plainly(case, arm), strict=True)):
            state, response, reasons = server[at]
            seen.update((state.mode, response))
            position = [rows[case.bundle][without_gap(state)], state.gap_days, state.gap_rung]
            # The reasons of the anchor's own day come with the anchor, and may name a new routine.
            why = list(reasons) if at else answer[at][number][5]
            closed = response if on > FIRST else answer[at][number][4]
            expected = [*position, state.mode, closed, why, changes[at]]
            if answer[at][number] != expected:
                yield arm, on, answer[at][number], expected
            if on > FIRST and plain != server[at]:
                yield arm, on, plain, server[at]


def way_differences(case: Case, answer: list[Any], seen: Counter[str]) -> Iterator[Any]:
    """Yield every difference of the phone's way back from the server's."""
    goes, last = go_table().rows, fold_way(case.course, case.opened, case.days[-1])
    at_start = {day.on: (day.state, day.is_clear) for day in last.days} | {last.on: (last.state, last.is_clear)}
    reasons = {day.on + DAY: list(day.closed.reasons) for day in last.days}
    for at, on in enumerate(case.days):
        phone = answer[at][-1]
        if on < case.opened.on:
            if phone is not None:
                yield on, phone
            continue
        state, is_clear = at_start[on]
        step, go, lately, away, flare = state
        point = {"step": step, "row": goes.index(go), "lately": lately, "away": away, "flare": flare}
        # The reasons of the day on which the phone begins are not known to it.
        why = reasons[on] if on > case.way.on else phone["why"]
        expected = [point, is_clear, step_today(last.page.ladder, state, is_clear=is_clear), why]
        seen[f"way {go.mode}"] += 1
        if expected != [phone["point"], phone["isClear"], phone["step"], phone["why"]]:
            yield on, phone, expected
        if phone["isAllowed"] and not may_go(last.page.ladder, state, is_clear=is_clear):
            yield on, phone, "not allowed"


@pytest.mark.drawn
def test_server_phone_and_a_plain_fold_come_to_the_same_out_of_hostile_logs(ask, counted):
    cases = [case_of(seed) for seed in range(LOGS)]
    bundles, rows = bundles_of(cases)
    seen: Counter[str] = Counter()
    found = []
    for first in range(0, LOGS, BATCH):
        part = cases[first : first + BATCH]
        asked_cases = [asked_of_a_phone(case, rows, first + at) for at, case in enumerate(part)]
        for at, answer in enumerate(ask(FOLLOWED, bundles=bundles, logs=asked_cases)):
            found += [(first + at, *each) for each in differences(part[at], answer, rows, seen)]
            found += [(first + at, *each) for each in way_differences(part[at], answer, seen)]
    days = sum(seen[mode] for mode in MODES)
    counted(
        f"hostile logs, server, phone and a plain fold: {LOGS} logs, {days} starts of a day of an arm, {len(found)} differences"
    )
    assert found == []
    assert min(seen[mode] for mode in MODES) > days / 20
    assert min(seen[f"way {mode}"] for mode in GO_MODES if mode != AWAY) > LOGS / 100
    assert min(seen[response] for response in RESPONSES) > days / 500

"""The made-up plan, days and log with which everything is timed."""

import json
from collections.abc import Mapping
from datetime import date, timedelta

from webapp.dosing.course import DayFacts
from webapp.dosing.figures import POUND
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.responses import ENOUGH, WHOLE_SHARE
from webapp.dosing.settings import DIRECTION_OF, Body, Client, Routine
from webapp.events.codec import decode
from webapp.events.kinds import LEVELS, Event
from webapp.records.events import NewEvent
from webapp.sync.log.take import content_hash

POUNDS = range(6)
FIRST_ON = date(2026, 3, 2)
RECEIPT = 1_000_000
"""The number of the receipt entry; it is higher than the number of any other entry."""
# during and the next morning: mostly calm, one flare, one missed day, one day without a report.
FORTNIGHT = (
    (1, 1), (1, 1), (2, 1), (3, 2), (1, 1), (4, 3), (1, 1),
    (1, None), (2, 2), (6, 4), (2, 2), (1, 1), (None, 1), (1, 1),
)  # fmt: skip


SETS = [
    {"movement": movement, "reps": 12, "load_kg": 0.0, "range": 1, "share": WHOLE_SHARE} for movement in DIRECTION_OF
]


def example_plan() -> Plan:
    """Return a plan with six weights, zero to five pounds."""
    client = Client(Body(70, 1.75, "male"), ("right",), tuple(POUND.value * pounds for pounds in POUNDS), 2)
    return make_plan(Routine("Bench", "outer_elbow"), client)


def diary(days: int, first_on: date = FIRST_ON) -> dict[date, DayFacts]:
    """Return the facts of `days` days; the days of `FORTNIGHT` are repeated."""
    facts = {}
    for number in range(days):
        during, morning = FORTNIGHT[number % len(FORTNIGHT)]
        done = {} if during is None else {"sessions": 1, "done": ENOUGH, "during": during}
        facts[first_on + timedelta(days=number)] = DayFacts(**done, morning=morning)  # type: ignore[arg-type]
    return facts


def entry(kind: str, on: date, seq: int, body: Mapping[str, object]) -> dict[str, object]:
    """Return an entry as a phone sends it."""
    plain = {"id": f"01920000-0000-7000-8000-{seq:012x}", "kind": kind, "v": 1, "on": on.isoformat(), "seq": seq}
    return {**plain, "at": f"{on.isoformat()}T07:00:00.000Z", "zone": "Europe/Lisbon", "body": body}


def _of_right(kind: str, on: date, seq: int, report: Mapping[str, object], **other: object) -> dict[str, object]:
    return entry(kind, on, seq, {"arms": {"right": report}, **other})


def log(days: int) -> list[Event]:
    """Return the same days as decoded events."""
    return [decode(each) for each in entries(days)]


def entries(days: int, first_on: date = FIRST_ON) -> list[dict[str, object]]:
    """Return the same days as a phone sends them."""
    whole = {"routine": 1, "asked_steps": 20, "done_steps": 20, "active_seconds": 600, "ended": "completed"}
    events: list[dict[str, object]] = []
    for on, facts in diary(days, first_on).items():
        if facts.sessions:
            report: Mapping[str, object] = {"worst": facts.during, "sharp": False, "sets": SETS}
            events.append(_of_right("session_finished", on, len(events) + 1, report, **whole, why="", note="", gaps=[]))
        if facts.morning is not None:
            report = {"pain": facts.morning, "sharp": False}
            events.append(_of_right("morning_reported", on + timedelta(days=1), len(events) + 1, report))
    return events


def screened(on: date) -> dict[str, object]:
    """Return the entry that says that the client went through the warning signs and none is true."""
    return entry("screening_answered", on, RECEIPT + 1, {"asked_list": "", "reached": LEVELS[-1], "signs": []})


def trained(first_on: date, days: int) -> list[dict[str, object]]:
    """Return the same days from `first_on` on, and the receipt of the routine."""
    return [entry("routine_received", first_on, RECEIPT, {"version": 1, "bundle": ""}), *entries(days, first_on)]


def stored(fields: Mapping[str, object]) -> NewEvent:
    """Return an entry as the records keep it."""
    on, kind, raw = str(fields["on"]), str(fields["kind"]), json.dumps(fields, separators=(",", ":"))
    return NewEvent(str(fields["id"]), on, kind, int(str(fields["seq"])), raw, content_hash(fields))

"""The course that the practice has set: training, maintenance on some days of a week, a rest until a day, or ended.

It never changes a dose. The days of a rest are days without a session like any other, so the rules of the gap decide where the
arm goes on, and none of them raises a dose.

Maintenance counts the last seven days, today among them, not the week from Monday to Sunday. Two days on Monday and Tuesday, then two
on Saturday and Sunday of the next week, would lie ten days apart, and after a week without a session an arm goes down a rung. Of
seven days in a row, as many as are asked never lie a week apart.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from webapp.events import kinds, values
from webapp.events.kinds import Event

DAYS_COUNTED = 7
_ONE_DAY = timedelta(days=1)
_REASON_LENGTH = 280
_NAME_LENGTH = 80


def check(body: dict[str, Any]) -> None:
    """Check the body of a course that was set; raise an EventError for a fault."""
    to = values.one_of(body.get("to"), "body.to", kinds.COURSES)
    if to == "maintenance":
        most = kinds.MOST_DAYS_A_WEEK
        values.whole(body.get("days_a_week"), "body.days_a_week", kinds.FEWEST_DAYS_A_WEEK, most)
    if to == "rest":
        values.day(body.get("until"), "body.until")
    values.text(body.get("reason"), "body.reason", _REASON_LENGTH)
    values.text(body.get("by"), "body.by", _NAME_LENGTH)
    if "seen_again_on" in body:
        values.day(body["seen_again_on"], "body.seen_again_on")


@dataclass(frozen=True)
class SetCourse:
    """What a course is from a day on.

    Attributes:
        to: training, maintenance, rest or ended.
        days_a_week: Of seven days in a row, on so many a session is asked for; 0 but in maintenance.
        since: The first day; None where the practice has said nothing yet.
        reason: What the client reads.
        by: The name of who set it.
        seen_again_on: The day on which the practitioner wants to see the client again; None where no day was named.
        until: The day on which a rest is over; None but in a rest.
    """

    to: str = "training"
    days_a_week: int = 0
    since: date | None = None
    reason: str = ""
    by: str = ""
    seen_again_on: date | None = None
    until: date | None = None


TRAINING = SetCourse()


def courses_set(events: Iterable[Event]) -> tuple[SetCourse, ...]:
    """List every course that was set, by its first day; of one day, in the order of the log's numbers."""
    found = {event.id: event for event in events if event.kind == "course_set"}
    return tuple(_set_by(event) for event in sorted(found.values(), key=lambda each: (each.on, each.seq, each.id)))


def _set_by(event: Event) -> SetCourse:
    body = event.body
    days = body["days_a_week"] if body["to"] == "maintenance" else 0
    again = date.fromisoformat(body["seen_again_on"]) if "seen_again_on" in body else None
    until = date.fromisoformat(body["until"]) if body["to"] == "rest" else None
    return SetCourse(body["to"], days, event.on, body["reason"], body["by"], again, until)


def course_on(courses: Iterable[SetCourse], day: date) -> SetCourse:
    """Return the course in force on a day: of `courses_set`, the last that has begun by then; training without any.

    Once a rest is over, the course that was in force beside it goes on from that day, with the reason of the rest.
    """
    begun = [each for each in courses if each.since is None or each.since <= day]
    last = begun[-1] if begun else TRAINING
    if last.until is None or last.until > day:
        return last
    others = [each for each in begun if each.to != "rest"]
    return replace(others[-1] if others else TRAINING, since=last.until, reason=last.reason, by=last.by)


def days_done(trained: Collection[date], day: date) -> int:
    """Count the days with a session among the six before a day."""
    return sum(day - back * _ONE_DAY in trained for back in range(1, DAYS_COUNTED))


def next_asked(trained: Collection[date], day: date, days_a_week: int) -> date:
    """Return the first day, from `day` on, on which maintenance asks for a session where no other is done meanwhile."""
    known = {on for on in trained if on < day}
    ahead = (day + back * _ONE_DAY for back in range(DAYS_COUNTED))
    return next(each for each in ahead if days_done(known, each) < days_a_week)

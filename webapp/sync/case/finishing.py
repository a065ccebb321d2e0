"""A client's course as the practice sets it: training, maintenance on some days of a week, a rest, or ended."""

import hashlib
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from webapp.events.course_set import SetCourse, courses_set
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of

_ALL = -1
_SEAL_LETTERS = 16


class CourseChangedError(Exception):
    """The course was set again after the page was shown: the practitioner must read it before setting another."""


def courses_of(db: Database, client: int) -> tuple[SetCourse, ...]:
    """List every course that was set for a client, by its first day."""
    return courses_set(entries_of(events.latest_of(db, client, ("course_set",), _ALL)))


def seal(courses: Sequence[SetCourse]) -> str:
    """Return a short hash of the courses that were set; it changes with each further one."""
    return hashlib.sha256(repr(courses).encode()).hexdigest()[:_SEAL_LETTERS]


def set_course(db: Database, client: int, chosen: SetCourse, seen: str, *, now: datetime) -> None:
    """Put a course on record; the same form sent twice writes once.

    Args:
        db: The records.
        client: The client's key.
        chosen: The course; `since` is its first day, and must be a day.
        seen: The seal of the courses that the practitioner has read.
        now: The instant of the call, in UTC.

    Raises:
        CourseChangedError: Another course was set meanwhile; nothing was stored.
        EventError: The course does not fit the entry's rules.
    """
    with write(db):
        courses = courses_of(db, client)
        if seen != seal(courses):
            if chosen in courses:
                return
            raise CourseChangedError
        body: dict[str, Any] = {"to": chosen.to, "reason": chosen.reason, "by": chosen.by}
        if chosen.to == "maintenance":
            body["days_a_week"] = chosen.days_a_week
        if chosen.seen_again_on:
            body["seen_again_on"] = chosen.seen_again_on.isoformat()
        if chosen.until is not None:
            body["until"] = chosen.until.isoformat()
        assert chosen.since is not None
        practice_events.put(db, client, "course_set", chosen.since, body, now)

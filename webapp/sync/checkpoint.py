"""A fold need not begin anew each time: where each client's arms stood a few days ago is kept.

The checkpoint is a cache. An event that reaches back behind it, a correction, a new routine or a release
of the last days makes the whole log be folded again; otherwise a sync folds two or three days.
"""

from collections.abc import Mapping
from datetime import date

import msgspec

from webapp.dosing.course import BEFORE_DAYS
from webapp.records import events, folded
from webapp.records.database import Database, write
from webapp.records.folded import Folded
from webapp.sync.fold import ONE_DAY, Course, read_course
from webapp.sync.switch import Place

# The morning of a checkpoint's own day closes the day before it, so reports may come two days late.
DAYS_BACK = 2 * ONE_DAY
# A day is classed by the lowest of three mornings, the first of them two days before its own.
MORNINGS_BACK = (BEFORE_DAYS - 1) * ONE_DAY

Places = Mapping[str, Place]


def resume(db: Database, client: int, until: date) -> tuple[Course, date, Places]:
    """Give what is needed to fold a client's log up to a day, and as little more as may be.

    Args:
        db: The records.
        client: Whose.
        until: The last day whose start is wanted.

    Returns:
        The course; the day to begin at; where each arm stood when the day before that was closed.
    """
    # Read first: an event stored meanwhile then counts as new next time, never as seen.
    through_seq = events.newest_seq(db, client)
    kept = folded.find(db, client)
    if kept and kept.day <= until.isoformat() and not _reaches_back(db, client, kept):
        start, places = date.fromisoformat(kept.day), _read(kept.accounts)
        course = read_course(db, client, events.since_day(db, client, (start - MORNINGS_BACK).isoformat()))
    else:
        course = read_course(db, client, events.of_client(db, client))
        start, places = course.first_day(until), {}
    day = until - DAYS_BACK
    if day <= start or any(on > day for on, _ in course.diary.receipts):
        return course, start, places
    moved = _move(course, places, start, day)
    with write(db):
        folded.keep(db, client, Folded(through_seq, day.isoformat(), _write(moved)))
    return course, day, moved


def _reaches_back(db: Database, client: int, kept: Folded) -> bool:
    # Whether a release counts hangs on sharp entries of any day before it.
    return events.is_any_late(db, client, kept.through_seq, kept.day) or events.is_any_since(
        db, client, "hold_released", kept.day
    )


def _move(course: Course, places: Places, start: date, until: date) -> Places:
    moved = {arm: course.run(arm, places.get(arm), start, until)[1] for arm in course.arms()}
    return {arm: place for arm, place in moved.items() if place is not None}


def _write(places: Places) -> str:
    return msgspec.json.encode(places).decode()


def _read(accounts: str) -> dict[str, Place]:
    return msgspec.json.decode(accounts, type=dict[str, Place])

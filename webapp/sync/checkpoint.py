"""A fold need not begin anew each time: where each client's arms stood a few days ago is kept.

The checkpoint is a cache. An event that reaches back behind it, a correction, a new routine or a release
of the last days makes the whole log be folded again; otherwise a sync folds two or three days.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

import msgspec

from webapp.dosing.course import BEFORE_DAYS, DayFacts
from webapp.library.faults import NotAcceptedError
from webapp.records import events, folded
from webapp.records.database import Database
from webapp.records.folded import Folded
from webapp.sync.fold import ONE_DAY, Course, read_course
from webapp.sync.switch import Place

# The morning of a checkpoint's own day closes the day before it, so reports may come two days late.
DAYS_BACK = 2 * ONE_DAY
# A day is classed by the lowest of three mornings, the first of them two days before its own.
MORNINGS_BACK = (BEFORE_DAYS - 1) * ONE_DAY
FAULTS_OF_A_FOLD = (
    ArithmeticError,
    AssertionError,
    AttributeError,
    LookupError,
    NotAcceptedError,
    TypeError,
    ValueError,
)
"""All but those of the records: after a fault of the disk a write may have been undone, and nothing was taken."""


@dataclass(frozen=True)
class Last:
    """The last that an arm's facts tell, up to a day.

    Attributes:
        session_on: The last day with a session, or None.
        morning: The rating of the last morning report, 0-10, or None.
        morning_on: The day of that report.
    """

    session_on: date | None = None
    morning: int | None = None
    morning_on: date | None = None

    def after(self, on: date, facts: DayFacts) -> "Last":
        """Return what is the last once the facts of a later day are known."""
        session_on = on if facts.sessions else self.session_on
        if facts.morning is None:
            return Last(session_on, self.morning, self.morning_on)
        return Last(session_on, facts.morning, on + ONE_DAY)


NOTHING_YET = Last()


@dataclass(frozen=True)
class Reached:
    """One arm at a checkpoint: where it stood when the day before was closed, and the last that it told until then."""

    place: Place
    last: Last


@dataclass(frozen=True)
class Resumed:
    """What is needed to fold a client's log from some day on.

    Attributes:
        course: The course; its facts are whole from `start` on.
        start: The day to begin at.
        reached: Where each arm stood when the day before that was closed; empty where the log is folded from its
            beginning, and then the facts are whole altogether.
        moved: The checkpoint to keep, or None where the one that is kept still serves.
    """

    course: Course
    start: date
    reached: Mapping[str, Reached] = field(default_factory=dict)
    moved: Folded | None = None

    def place(self, arm: str) -> Place | None:
        """Return where an arm stood when the day before `start` was closed, None where it has not begun."""
        return self.reached[arm].place if arm in self.reached else None

    def last(self, arm: str, until: date) -> Last:
        """Return the last that an arm told on the days before `until`."""
        last = self.reached[arm].last if arm in self.reached else NOTHING_YET
        facts = self.course.diary.of_arm(arm)
        for on in sorted(on for on in facts if on < until):
            last = last.after(on, facts[on])
        return last


def whole(db: Database, client: int, until: date) -> Resumed:
    """Return what is needed to fold a client's log from its beginning, whatever checkpoint is kept."""
    course = read_course(db, client, events.of_client(db, client))
    return Resumed(course, course.first_day(until))


def resume(db: Database, client: int, until: date) -> Resumed:
    """Return what is needed to fold a client's log up to a day, and as little more as may be.

    Args:
        db: The records.
        client: Whose.
        until: The last day whose start is wanted.
    """
    # Read first: an event stored meanwhile then counts as new next time, never as seen.
    through_seq = events.newest_seq(db, client)
    kept = folded.find(db, client)
    if kept and kept.day <= until.isoformat() and not _reaches_back(db, client, kept):
        start = date.fromisoformat(kept.day)
        course = read_course(db, client, events.since_day(db, client, (start - MORNINGS_BACK).isoformat()))
        found = Resumed(course, start, read_reached(kept.accounts))
    else:
        found = whole(db, client, until)
    day = until - DAYS_BACK
    if day <= found.start or any(on > day for on, _ in found.course.diary.receipts):
        return found
    reached = _moved(found, day)
    written = msgspec.json.encode(reached).decode()
    return Resumed(found.course, day, reached, Folded(through_seq, day.isoformat(), written))


def _reaches_back(db: Database, client: int, kept: Folded) -> bool:
    # Whether a release counts hangs on sharp entries of any day before it.
    return events.is_any_late(db, client, kept.through_seq, kept.day) or events.is_any_since(
        db, client, "hold_released", kept.day
    )


def _moved(found: Resumed, day: date) -> dict[str, Reached]:
    moved = {arm: found.course.run(arm, found.place(arm), found.start, day)[1] for arm in found.course.arms()}
    return {arm: Reached(place, found.last(arm, day)) for arm, place in moved.items() if place is not None}


def read_reached(accounts: str) -> dict[str, Reached]:
    """Read where each arm stood at a checkpoint, as it is kept."""
    return msgspec.json.decode(accounts, type=dict[str, Reached])


def keep(db: Database, client: int, resumed: Resumed) -> None:
    """Keep the checkpoint where it moved, inside a write."""
    if resumed.moved:
        folded.keep(db, client, resumed.moved)

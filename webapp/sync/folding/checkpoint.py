"""The checkpoint of each client: the progress of each arm a few days ago, so that a fold can begin there.

The checkpoint is a cache. With it a sync folds only two or three days. The whole log is folded again after an event about a
day before the checkpoint, a correction, a new routine, or a release of the last days.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

import msgspec

from webapp.dosing.course import BEFORE_DAYS, DayFacts
from webapp.dosing.returning.go import ReturnState
from webapp.events.returning import WayOpened
from webapp.library.faults import NotAcceptedError
from webapp.records import events, folded
from webapp.records.database import Database
from webapp.records.folded import Folded
from webapp.sync.folding.fold import ONE_DAY, Course, read_course
from webapp.sync.folding.returning import WATCHED, WayBack, WayBegun, fold_way, known_way, told_ways
from webapp.sync.folding.switch import Progress

# The morning of the checkpoint's own day belongs to the day before it, so reports may come two days late.
DAYS_BACK = 2 * ONE_DAY
# A day is classed by the lowest of three mornings; the first is two days before the day's own morning.
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
    """The last session and the last morning report of an arm up to a day.

    Attributes:
        session_on: The last day with a session, or None.
        morning: The rating of the last morning report, 0-10, or None.
        morning_on: The day of that report, or None.
    """

    session_on: date | None = None
    morning: int | None = None
    morning_on: date | None = None

    def after(self, on: date, facts: DayFacts) -> "Last":
        """Return the new value after the facts of a later day."""
        session_on = on if facts.sessions else self.session_on
        if facts.morning is None:
            return Last(session_on, self.morning, self.morning_on)
        return Last(session_on, facts.morning, on + ONE_DAY)


NOTHING_YET = Last()


@dataclass(frozen=True)
class Reached:
    """One arm at a checkpoint: its progress after the day before was closed, and its last session and report until then."""

    progress: Progress
    last: Last


@dataclass(frozen=True)
class KeptWay:
    """A way back at a checkpoint: what was opened, and the place on its ladder."""

    opened: WayOpened
    state: ReturnState


@dataclass(frozen=True)
class Checkpoint:
    """What is stored of a fold: each arm by name, and the way back."""

    arms: dict[str, Reached]
    way: KeptWay | None = None


@dataclass(frozen=True)
class Resumed:
    """The data for folding a client's log from a day on.

    Attributes:
        course: The course; its facts are complete from `start` on.
        start: The day at which the fold begins.
        reached: The checkpoint of each arm after the day before `start` was closed. It is empty if the log is folded from
            its beginning; then all facts are complete.
        moved: The new checkpoint to store, or None if the stored checkpoint is still good.
        way: The way back to sport or work after the day before `start`, or None where none was looked at until then.
    """

    course: Course
    start: date
    reached: Mapping[str, Reached] = field(default_factory=dict)
    moved: Folded | None = None
    way: KeptWay | None = None

    def progress(self, arm: str) -> Progress | None:
        """Return an arm's progress after the day before `start` was closed, None if the arm has not begun."""
        return self.reached[arm].progress if arm in self.reached else None

    def last(self, arm: str, until: date) -> Last:
        """Return the last session and the last morning report of an arm on the days before `until`."""
        last = self.reached[arm].last if arm in self.reached else NOTHING_YET
        facts = self.course.diary.of_arm(arm)
        for on in sorted(on for on in facts if on < until):
            last = last.after(on, facts[on])
        return last


def whole(db: Database, client: int, until: date) -> Resumed:
    """Return the data for folding a client's log from its beginning, without any checkpoint."""
    course = read_course(db, client, events.of_client(db, client))
    return Resumed(course, course.first_day(until))


def resume(db: Database, client: int, until: date) -> Resumed:
    """Return the data for folding a client's log up to a day, from the checkpoint if it is still good.

    Args:
        db: The records.
        client: The client's key.
        until: The last day whose start is needed.
    """
    # This must be read first: an event that is stored meanwhile then counts as new at the next fold.
    through_seq = events.newest_seq(db, client)
    kept = folded.find(db, client)
    if kept and kept.day <= until.isoformat() and not _reaches_back(db, client, kept):
        start = date.fromisoformat(kept.day)
        course = read_course(db, client, events.since_day(db, client, (start - MORNINGS_BACK).isoformat()))
        read = read_checkpoint(kept.accounts)
        found = Resumed(course, start, read.arms, way=read.way)
    else:
        found = whole(db, client, until)
    return _with_new_checkpoint(found, through_seq, until, told_ways(db, client))


def anew(db: Database, client: int, until: date) -> Resumed:
    """Return the data for folding a client's log up to a day, from the whole log, with the checkpoint that it gives."""
    through_seq = events.newest_seq(db, client)
    return _with_new_checkpoint(whole(db, client, until), through_seq, until, told_ways(db, client))


def _with_new_checkpoint(
    found: Resumed, through_seq: int, until: date, ways: Sequence[tuple[date, WayOpened | None]]
) -> Resumed:
    day = until - DAYS_BACK
    if day <= found.start or any(on > day for on, _ in found.course.diary.receipts):
        return found
    reached = _moved(found, day)
    way = _kept_way(found, known_way(ways, day + WATCHED), day)
    written = msgspec.json.encode(Checkpoint(reached, way)).decode()
    return Resumed(found.course, day, reached, Folded(through_seq, day.isoformat(), written), way)


def _kept_way(found: Resumed, opened: WayOpened | None, day: date) -> KeptWay | None:
    if opened is None or opened.on - WATCHED >= day:
        return None
    way = way_from(found, opened, day)
    return KeptWay(opened, way.state) if way and way.on == day else None


def way_from(found: Resumed, opened: WayOpened, until: date) -> WayBack | None:
    """Fold a way back from where a fold was resumed up to the start of a day.

    Returns:
        The way back; None where the checkpoint lies too late for it, so that only the whole log tells.
    """
    if not found.reached:
        return fold_way(found.course, opened, until)
    arms = {arm: reached.progress for arm, reached in found.reached.items()}
    if found.way and found.way.opened == opened and until >= found.start:
        return fold_way(found.course, opened, until, WayBegun(found.start, arms, found.way.state))
    if found.start <= opened.on - WATCHED:
        return fold_way(found.course, opened, until, WayBegun(found.start, arms))
    return None


def _reaches_back(db: Database, client: int, kept: Folded) -> bool:
    # A release counts only if it covers all sharp entries about earlier days, so those are needed too.
    return events.is_any_late(db, client, kept.through_seq, kept.day) or events.is_any_since(
        db, client, "hold_released", kept.day
    )


def _moved(found: Resumed, day: date) -> dict[str, Reached]:
    moved = {arm: found.course.run(arm, found.progress(arm), found.start, day)[1] for arm in found.course.arms()}
    return {arm: Reached(progress, found.last(arm, day)) for arm, progress in moved.items() if progress is not None}


def read_checkpoint(accounts: str) -> Checkpoint:
    """Read a stored checkpoint."""
    return msgspec.json.decode(accounts, type=Checkpoint)


def keep(db: Database, client: int, resumed: Resumed) -> None:
    """Store the new checkpoint, if there is one, inside a write."""
    if resumed.moved:
        folded.keep(db, client, resumed.moved)

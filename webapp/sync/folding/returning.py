"""Folds the way back to sport or work: the days since it was opened, from the same log and the same classes as the exercises."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import response_so_far
from webapp.dosing.hand import is_trouble
from webapp.dosing.returning.closing import ReturnClosed, SportDay, close_sport_day
from webapp.dosing.returning.feel import feel_of, worst_feel
from webapp.dosing.returning.go import APART_DAYS, AWAY, STOPPED, ReturnState, is_due, is_passed, may_go, step_today
from webapp.dosing.returning.rules import RAISES
from webapp.events.kinds import AMOUNTS
from webapp.events.returning import ENDED, OPENED, WayOpened, way_on, ways_told
from webapp.library.ladders import LadderPage, the_ladders
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.folding.fold import ONE_DAY, Course, read_course
from webapp.sync.folding.switch import Changed, Progress
from webapp.sync.log.diary import entries_of

_ALL = -1
WATCHED = int(figures.LATE_MORNINGS.value) * ONE_DAY
"""So many days before the first are looked at too: the gate was looked at before they were over, and a report may come so late."""
START = "return-start"


@dataclass(frozen=True)
class ReturnDay:
    """One closed day of a way back, or before its first day: its place at the start, whether nothing was raised, the sport and how it felt, what followed.

    `step` is the one of sport on that day, `worst` the worst in it, 0-10, or None.
    """

    on: date
    state: ReturnState
    is_clear: bool
    sport: SportDay
    closed: ReturnClosed
    step: int
    worst: int | None


@dataclass(frozen=True)
class WayBack:
    """A client's way back at the start of a day.

    Attributes:
        opened: What the practitioner opened.
        page: The ladder.
        on: The day.
        state: The place on the ladder.
        is_clear: Whether the exercises raised nothing within 72 hours.
        is_held: Whether an arm is held, which stands above the ladder.
        has_ended: Whether the day itself has brought a flare or a stop so far.
        days: The closed days since it was opened, and those before it that are looked at, the oldest first.
    """

    opened: WayOpened
    page: LadderPage
    on: date
    state: ReturnState
    is_clear: bool
    is_held: bool
    has_ended: bool
    days: tuple[ReturnDay, ...]

    @property
    def step(self) -> int:
        """The step of an outing on this day."""
        return step_today(self.page.ladder, self.state, is_clear=self.is_clear)

    @property
    def is_allowed(self) -> bool:
        """Whether sport is possible on this day."""
        return not (self.is_held or self.has_ended) and may_go(self.page.ladder, self.state, is_clear=self.is_clear)

    @property
    def is_first_of_step(self) -> bool:
        """Whether sport on this day would be the first of the way back, or of a higher step."""
        return self.step > self.state.step or self.state.away == (self.on - self.opened.on).days

    @property
    def is_over(self) -> bool:
        """Whether only the practitioner can open it again."""
        return self.state.go.mode in (STOPPED, AWAY)

    @property
    def is_done(self) -> bool:
        """Whether the last step is passed."""
        return is_passed(self.page.ladder, self.state.step, self.state.go) and not is_due(
            self.page.ladder, self.state.step, self.state.go
        )

    @property
    def reasons(self) -> tuple[str, ...]:
        """The ids of the rules that led here."""
        return self.days[-1].closed.reasons if self.days else (START,)


def told_ways(db: Database, client: int) -> list[tuple[date, WayOpened | None]]:
    """List what was opened and ended for a client, by its day."""
    return ways_told(entries_of(events.latest_of(db, client, (OPENED, ENDED), _ALL)))


def open_way(db: Database, client: int, day: date) -> WayOpened | None:
    """Return the way back that is open on a day, or None. A ladder that this installation no longer has is none."""
    return known_way(told_ways(db, client), day)


def known_way(ways: Sequence[tuple[date, WayOpened | None]], day: date) -> WayOpened | None:
    """Return the way back of `told_ways` that is open on a day, or None."""
    opened = way_on(ways, day)
    return opened if opened and opened.ladder in the_ladders() else None


def way_back(db: Database, client: int, day: date, *, opened_by: date | None = None) -> WayBack | None:
    """Fold a client's way back up to the start of a day; None where none is open.

    Args:
        db: The records.
        client: The client's key.
        day: The first day that stays open. A way back that is opened later is returned at the first day that it looks at.
        opened_by: The last day on which it may be opened; `day` if left out.
    """
    opened = open_way(db, client, opened_by or day)
    if opened is None:
        return None
    course = read_course(db, client, events.of_client(db, client))
    return fold_way(course, opened, day)


class WayBegun(NamedTuple):
    """Where the fold of a way back may begin: a day, each arm's progress after the day before it, the place on the ladder then.

    `state` is None where the way looks at no day before `on`.
    """

    on: date
    arms: Mapping[str, Progress]
    state: ReturnState | None = None


def fold_way(course: Course, opened: WayOpened, until: date, begun: WayBegun | None = None) -> WayBack:
    """Fold a way back up to the start of `until`, from `WATCHED` before its first day; the same events always give the same result.

    The days before the first count for nothing but a flare, a stop, or a morning that is not calm or not known.

    Args:
        course: The course; its facts are complete from `begun.on` on.
        opened: What the practitioner opened.
        until: The first day that stays open. Where the way looks at later days only, it is returned at the first of them.
        begun: Where the fold begins; None for the beginning of the log.
    """
    page = the_ladders()[opened.ladder]
    state, days = ReturnState(step=min(opened.step, len(page.ladder.steps))), []
    first = max(opened.on - WATCHED, course.first_day(opened.on)) if begun is None else opened.on - WATCHED
    if begun and begun.state:
        first, state = begun.on, begun.state
    arms, until = FollowedArms(course, first, begun), max(until, first)
    for on in _days(first, until):
        is_clear = arms.is_clear(on)
        sport = arms.close(on)._replace(is_before=on < opened.on)
        closed = close_sport_day(page.ladder, state, sport, is_clear=is_clear)
        step = step_today(page.ladder, state, is_clear=is_clear)
        days.append(ReturnDay(on, state, is_clear, sport, closed, step, arms.worst(on)))
        state = closed.state
    return WayBack(
        opened, page, until, state, arms.is_clear(until), arms.is_held(until), arms.has_ended(until), tuple(days)
    )


def _days(first: date, until: date) -> Iterator[date]:
    for number in range((until - first).days):
        yield first + number * ONE_DAY


class FollowedArms:
    """Every arm of a course, followed day by day."""

    def __init__(self, course: Course, first: date, begun: WayBegun | None = None) -> None:
        self.course = course
        self.progress: dict[str, Progress | None] = {}
        start, arms = begun[:2] if begun else (min(course.first_day(first), first), {})
        for arm in course.arms():
            _, self.progress[arm] = course.run(arm, arms.get(arm), start, first)

    def _begun(self, on: date) -> list[Progress]:
        begun = (self.course.enter(arm, progress, on) for arm, progress in self.progress.items())
        return [progress for progress in begun if progress is not None]

    def is_clear(self, on: date) -> bool:
        """Whether no arm's dose was raised within 72 hours before a day, or on it."""
        return not any(_is_raised(progress.changed, on) for progress in self._begun(on))

    def worst(self, on: date) -> int | None:
        """Return the worst in a day's sport, of every arm."""
        known = (self.course.diary.of_arm(arm).get(on) for arm in self.progress)
        return max((each.sport_worst for each in known if each and each.sport_worst is not None), default=None)

    def raised_on(self, on: date) -> dict[str, date]:
        """Return, by arm, the first day of its dose, where a rule raised it."""
        begun = {arm: self.course.enter(arm, progress, on) for arm, progress in self.progress.items()}
        changes = {arm: progress.changed for arm, progress in begun.items() if progress and progress.changed}
        return {arm: changed.on for arm, changed in changes.items() if not set(RAISES).isdisjoint(changed.why)}

    def is_held(self, on: date) -> bool:
        """Whether an arm is held at the start of a day."""
        return any(progress.state.mode == "held" for progress in self._begun(on))

    def has_ended(self, on: date) -> bool:
        """Whether what is known of a day, without its next morning, is a flare or a stop of an arm."""
        begun = {arm: self.course.enter(arm, progress, on) for arm, progress in self.progress.items()}
        return any(
            is_trouble(response_so_far(self.course.plans[each.version], each.state, self.course.diary.of_arm(arm), on))
            for arm, each in begun.items()
            if each
        )

    def close(self, on: date) -> SportDay:
        """Close a day of every arm; return its sport and how it felt."""
        played, feels = [], []
        for arm, progress in self.progress.items():
            closed, self.progress[arm] = self.course.run(arm, progress, on, on + ONE_DAY)
            for day in closed:
                after = self.progress[arm]
                assert after is not None
                feels.append(feel_of(self.course.plans[after.version], day.facts, day.before, day.response))
            known = self.course.diary.of_arm(arm).get(on)
            if known and known.sport_minutes is not None:
                played.append(known)
        if not played:
            return SportDay(None, worst_feel(feels))
        return SportDay(
            max(each.sport_minutes or 0 for each in played),
            worst_feel(feels),
            amount=max((each.sport_amount for each in played), key=AMOUNTS.index),
            strokes=max((each.sport_strokes for each in played if each.sport_strokes is not None), default=None),
        )


def _is_raised(changed: Changed | None, on: date) -> bool:
    return changed is not None and (on - changed.on).days < APART_DAYS and not set(RAISES).isdisjoint(changed.why)

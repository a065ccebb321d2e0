"""The review's view of one arm's course, the form of a finding, and the checks that several findings share."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from webapp.dosing.chain import Jump
from webapp.dosing.course import NOTHING, ClosedDay, DayFacts, is_sharp
from webapp.dosing.dose import Dose, dose
from webapp.dosing.findings import numbers
from webapp.dosing.plan import Plan
from webapp.dosing.state import State

ONE_DAY = timedelta(days=1)
WEEK = 7
FORTNIGHT = 14
_QUIET = int(numbers.QUIET_DAYS.value)
_COMPARED = int(numbers.MORNINGS_COMPARED.value)
ALARMS = ("flared", "flared_idle", "sharp")


@dataclass(frozen=True)
class ArmCourse:
    """One arm's course up to a day.

    Attributes:
        plan: The plan in force.
        days: Every closed day, the oldest first.
        state: The state at the start of `today`.
        today: The first open day.
        today_facts: What is already known of today.
        agreed_since: The day on which the usual pain or the settled ceiling last changed; None where neither has.
        released_from: Where a release on record counts only from a later day, that day; else None.
        stood_from: The index of the first day after the last climb; None where that is still to be found out.
    """

    plan: Plan
    days: Sequence[ClosedDay]
    state: State
    today: date
    today_facts: DayFacts = NOTHING
    agreed_since: date | None = None
    released_from: date | None = None
    stood_from: int | None = None

    @cached_property
    def days_without_climb(self) -> Sequence[ClosedDay]:
        """The days since the last climb: a rung, by rule or by hand, or longer sets in the first week."""
        if self.stood_from is not None:
            return self.days[self.stood_from :]
        run: list[ClosedDay] = []
        above, next_dose = self.state.rung, dose(self.plan, self.state)
        for day in reversed(self.days):
            if above > day.state_after.rung or has_climbed(day, next_dose):
                break
            run.append(day)
            above, next_dose = day.state_before.rung, day.dose
        return run[::-1]


@dataclass(frozen=True)
class Finding:
    """One thing found.

    Attributes:
        id: The id of the row in `review.FINDINGS`; the key of its words.
        since: The first day that shows it.
        evidence: (day, number) pairs; the id says what the number means.
        numbers: Further numbers that the words need, by name.
    """

    id: str
    since: date
    evidence: tuple[tuple[date, float], ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()

    @property
    def count(self) -> int:
        """The number of days or mornings that show it."""
        return len(self.evidence)


@dataclass(frozen=True)
class Watch:
    """One row of the review: an id, the condition in plain words, the check, its basis, its limit."""

    id: str
    condition: str
    look: Callable[[ArmCourse, int], Finding | None]
    basis: str
    limit: int = 0


def found(name: str, evidence: Sequence[tuple[date, float]], **numbers: float) -> Finding | None:
    """Return a finding with its evidence, or None where there is no evidence."""
    if not evidence:
        return None
    return Finding(name, evidence[0][0], tuple(evidence), tuple(numbers.items()))


def mornings(days: Sequence[ClosedDay]) -> list[tuple[date, float]]:
    """Return (the date of the morning, pain) for each known morning; the morning is the day after the closed day."""
    return [(day.on + ONE_DAY, day.facts.morning) for day in days if day.facts.morning is not None]


def tail(days: Sequence[ClosedDay], holds: Callable[[ClosedDay], bool]) -> list[ClosedDay]:
    """Return the last days in a row for which `holds` is true, the oldest first."""
    run: list[ClosedDay] = []
    for day in reversed(days):
        if not holds(day):
            break
        run.append(day)
    return run[::-1]


def open_jump(plan: Plan) -> Jump | None:
    """Return the jump below which the ladder ends, or None."""
    return next((jump for jump in plan.ladder.jumps if not jump.accepted), None)


def is_below_goal(course: ArmCourse) -> bool:
    """Say whether the arm is below its goal: a rung or a step of range is left, or a jump was not accepted."""
    return not course.plan.is_top(course.state) or course.state.ease > 0 or open_jump(course.plan) is not None


def has_climbed(day: ClosedDay, next_dose: Dose) -> bool:
    """Say whether a day led to a higher rung, or, in the first week, to longer sets at the same rung and range."""
    before, after = day.state_before, day.state_after
    if after.rung != before.rung or after.ease != before.ease:
        return after.rung > before.rung
    return before.mode == after.mode == "training" and next_dose.work_j > day.dose.work_j


def is_quiet(course: ArmCourse) -> bool:
    """Say whether the arm is not held, and neither flared nor showed a sign in the last ten days or today."""
    if course.state.mode == "held" or is_sharp(course.today_facts):
        return False
    return all(day.response not in ALARMS for day in course.days[-_QUIET:])


def is_no_worse(course: ArmCourse) -> bool:
    """Say whether the last five mornings of the fortnight are no worse than the five before; both must be known."""
    known = [pain for _, pain in mornings(course.days[-FORTNIGHT:])]
    earlier, later = known[-2 * _COMPARED : -_COMPARED], known[-_COMPARED:]
    return len(earlier) == _COMPARED and sum(later) <= sum(earlier)

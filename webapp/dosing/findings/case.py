"""One arm's course as the review sees it, what a finding is, and the looks that several findings share."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.dosing.chain import Jump
from webapp.dosing.course import NOTHING, DayAccount, DayFacts, is_sharp
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
class Case:
    """One arm's course up to a day.

    Attributes:
        plan: The plan it follows now.
        days: Every closed day, the oldest first.
        state: At the start of `today`.
        today: The first open day.
        today_facts: What is known of today already.
        agreed_since: The day on which the usual pain or the settled ceiling last changed; None where neither has.
        released_from: The later day from which a release that is on record already counts; None where there is none.
    """

    plan: Plan
    days: Sequence[DayAccount]
    state: State
    today: date
    today_facts: DayFacts = NOTHING
    agreed_since: date | None = None
    released_from: date | None = None


@dataclass(frozen=True)
class Finding:
    """One thing found.

    Attributes:
        id: Of the row in `review.FINDINGS`; what to consider is worded under it.
        since: The first day it rests on.
        evidence: (day, number) pairs; what the number is follows from the id.
        numbers: Further numbers the words need, by name.
    """

    id: str
    since: date
    evidence: tuple[tuple[date, float], ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Watch:
    """One row of the review: an id, what is looked for in plain words, the look, its basis, its limit."""

    id: str
    condition: str
    look: Callable[[Case, int], Finding | None]
    basis: str
    limit: int = 0


def found(name: str, evidence: Sequence[tuple[date, float]], **numbers: float) -> Finding | None:
    """Return a finding that rests on some days, or None where there are none."""
    if not evidence:
        return None
    return Finding(name, evidence[0][0], tuple(evidence), tuple(numbers.items()))


def mornings(days: Sequence[DayAccount]) -> list[tuple[date, float]]:
    """Return (the morning's own day, pain) of each known morning."""
    return [(day.on + ONE_DAY, day.facts.morning) for day in days if day.facts.morning is not None]


def tail(days: Sequence[DayAccount], holds: Callable[[DayAccount], bool]) -> list[DayAccount]:
    """Return the run of last days that all hold."""
    run: list[DayAccount] = []
    for day in reversed(days):
        if not holds(day):
            break
        run.append(day)
    return run[::-1]


def open_jump(plan: Plan) -> Jump | None:
    """Return the jump below which the ladder ends, if it ends below one."""
    return next((jump for jump in plan.ladder.jumps if not jump.accepted), None)


def is_below_goal(case: Case) -> bool:
    """Say whether anything is left to climb: a rung, a step of range, or a jump that was not accepted."""
    return not case.plan.is_top(case.state) or case.state.ease > 0 or open_jump(case.plan) is not None


def has_climbed(day: DayAccount, next_dose: Dose) -> bool:
    """Say whether a day brought a higher rung, or more work at the same range as the first week's sets get longer."""
    before, after = day.state_before, day.state_after
    if after.rung != before.rung or after.ease != before.ease:
        return after.rung > before.rung
    return before.mode == after.mode == "training" and next_dose.work_j > day.dose.work_j


def days_without_climb(case: Case) -> list[DayAccount]:
    """Return the days since the arm last went up: a rung, by rule or by hand, or to longer sets in the first week."""
    run: list[DayAccount] = []
    above, next_dose = case.state.rung, dose(case.plan, case.state)
    for day in reversed(case.days):
        if above > day.state_after.rung or has_climbed(day, next_dose):
            break
        run.append(day)
        above, next_dose = day.state_before.rung, day.dose
    return run[::-1]


def is_quiet(case: Case) -> bool:
    """Say whether the arm is not held, and neither flared nor showed a sign in the last ten days or today."""
    if case.state.mode == "held" or is_sharp(case.today_facts):
        return False
    return all(day.response not in ALARMS for day in case.days[-_QUIET:])


def is_no_worse(case: Case) -> bool:
    """Say whether the last five mornings of the fortnight are no worse than the five before; both must be known."""
    known = [pain for _, pain in mornings(case.days[-FORTNIGHT:])]
    earlier, later = known[-2 * _COMPARED : -_COMPARED], known[-_COMPARED:]
    return len(earlier) == _COMPARED and sum(later) <= sum(earlier)

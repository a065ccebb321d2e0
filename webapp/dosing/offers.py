"""The offers of the review: another usual pain or another settled ceiling.

An offer shows how the last days would have been classed under the offered value. It changes nothing by itself. A
practitioner accepts it with a new version of the routine, and earlier days keep their classes.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from statistics import median_low
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import ClosedDay, classed, done_on
from webapp.dosing.findings import numbers
from webapp.dosing.findings.answers import usual_too_high
from webapp.dosing.findings.arm_course import (
    ALARMS,
    FORTNIGHT,
    ArmCourse,
    is_no_worse,
    is_quiet,
    mornings,
)
from webapp.dosing.plan import Plan
from webapp.dosing.review import FINDINGS, STANDSTILL_DAYS
from webapp.dosing.settings import BOUNDS

USUAL, CEILING = "usual", "settled_during"
BY_TAP, BY_REASON, BY_CLINICIAN = "tap", "reason", "clinician"
PAUSE = timedelta(days=numbers.PAUSE_DAYS.value)
"""No offer is made for this long after the usual pain or the ceiling was changed."""
MOST_CEILING_BY_TAP = int(numbers.MOST_CEILING_BY_TAP.value)
ENOUGH_MORNINGS = next(watch.limit for watch in FINDINGS if watch.id == "usual-too-high")


class Compared(NamedTuple):
    """One closed day: its class, and the class that it would have under the offered value."""

    on: date
    was: str
    would_be: str


@dataclass(frozen=True)
class Offer:
    """Another value for one of two settings of the client, for every arm.

    Attributes:
        lever: `USUAL` or `CEILING`.
        now: The value in force.
        value: The value offered: a ceiling a point higher, a usual pain a point lower, or the usual pain that the
            fortnight's mornings show (see `_usual_points`).
        needs: What the practitioner must do to accept it: `BY_TAP` nothing more, `BY_REASON` write a reason,
            `BY_CLINICIAN` tick on the routine desk that a clinician has seen the arm.
        days: The last fourteen closed days, the oldest first.
    """

    lever: str
    now: int
    value: int
    needs: str
    days: tuple[Compared, ...]

    @property
    def differs(self) -> bool:
        """Whether any of the days would have been classed differently."""
        return any(day.was != day.would_be for day in self.days)

    @property
    def settled_was(self) -> int:
        """How many of the days were settled."""
        return sum(day.was == "settled" for day in self.days)

    @property
    def settled_would_be(self) -> int:
        """How many of the days would have been settled."""
        return sum(day.would_be == "settled" for day in self.days)


def _value(plan: Plan, lever: str) -> int:
    return plan.client.usual if lever == USUAL else plan.tuning.settled_during


def with_value(plan: Plan, lever: str, value: int) -> Plan:
    """Return a plan with another usual pain or settled ceiling. The ladder depends on neither, so it is kept."""
    if lever == USUAL:
        return replace(plan, client=replace(plan.client, usual=value))
    return replace(plan, routine=replace(plan.routine, tuning=replace(plan.tuning, settled_during=value)))


def _compared(plan: Plan, day: ClosedDay) -> Compared:
    would_be, _ = classed(plan, done_on(day.facts, day.state_before), day.before)
    return Compared(day.on, day.response, would_be)


def _needs(lever: str, value: int) -> str:
    if lever == USUAL:
        return BY_CLINICIAN if value >= figures.USUAL_BY_HAND.value else BY_TAP
    return BY_TAP if value <= MOST_CEILING_BY_TAP else BY_REASON


def _offer(course: ArmCourse, lever: str, points: int) -> Offer | None:
    """Return the offer of a value `points` above the present one, or None where the value is out of bounds."""
    now = _value(course.plan, lever)
    value, bound = now + points, BOUNDS[lever]
    if not bound.low <= value <= bound.high:
        return None
    plan = with_value(course.plan, lever, value)
    days = tuple(_compared(plan, day) for day in course.days[-FORTNIGHT:])
    return Offer(lever, now, value, _needs(lever, value), days)


def _ups(course: ArmCourse) -> Iterator[Offer]:
    # At full range on the highest rung, more settled days change nothing, even where the ladder ends below a jump.
    may_rise = not course.plan.is_top(course.state) or course.state.ease > 0
    if len(course.days_without_climb) < STANDSTILL_DAYS or not may_rise:
        return
    # Where both would settle equally many days, the ceiling is offered: it does not change what counts as a flare.
    for lever, points in ((CEILING, 1), (USUAL, _usual_points(course))):
        offer = _offer(course, lever, points)
        if offer and offer.settled_would_be > offer.settled_was:
            yield offer


def _usual_points(course: ArmCourse) -> int:
    """Return by how many points the offered usual pain is higher: up to the fortnight's median morning, at most to 3.

    A usual pain of 3 or more goes up by one point, because 4 and 5 need a clinician.
    """
    known = [pain for _, pain in mornings(course.days[-FORTNIGHT:])]
    usual, most = course.plan.client.usual, int(figures.USUAL_BY_HAND.value) - 1
    over = int(median_low(known)) - usual if known else 1
    return max(1, min(over, most - usual))


def _down(course: ArmCourse) -> Offer | None:
    return _offer(course, USUAL, -1) if usual_too_high(course, ENOUGH_MORNINGS) else None


def _flares_today(course: ArmCourse) -> bool:
    response, _ = classed(course.plan, course.today_facts, None)
    return response in ALARMS


def _may_change(course: ArmCourse, others: Iterable[ArmCourse]) -> bool:
    """Say whether any offer may be made now, judged by this arm and by the client's other arms."""
    is_paused = course.agreed_since is not None and course.today - course.agreed_since < PAUSE
    if is_paused or not is_no_worse(course):
        return False
    return _is_calm(course) and all(_is_calm(other) and not _is_worse(other) for other in others)


def _is_calm(course: ArmCourse) -> bool:
    return course.state.mode == "training" and is_quiet(course) and not _flares_today(course)


def _is_worse(course: ArmCourse) -> bool:
    """Say whether ten mornings are known and the last five are worse than the five before."""
    is_known = len(mornings(course.days[-FORTNIGHT:])) >= 2 * numbers.MORNINGS_COMPARED.value
    return is_known and not is_no_worse(course)


def offer_for(course: ArmCourse, others: Sequence[ArmCourse] = ()) -> Offer | None:
    """Return the offer of the review for an arm, or None.

    Args:
        course: The arm.
        others: The client's other arms. The offered value would count for them too.

    Returns:
        Where the arm has not climbed for ten days: the value under which most of the last fourteen days would have been
        settled. Else, where mornings are lower than the usual pain: a lower usual pain. None where neither holds, or
        where no value may be changed now.
    """
    if not _may_change(course, others):
        return None
    ups = list(_ups(course))
    return max(ups, key=lambda offer: offer.settled_would_be) if ups else _down(course)

"""Findings about a client's ratings: missing, rising, always the same, or far from the usual pain that was agreed."""

from collections.abc import Callable, Sequence
from statistics import median

from webapp.dosing import figures
from webapp.dosing.course import ClosedDay
from webapp.dosing.findings import numbers
from webapp.dosing.findings.arm_course import (
    FORTNIGHT,
    WEEK,
    ArmCourse,
    Finding,
    found,
    is_no_worse,
    is_quiet,
    mornings,
    tail,
)
from webapp.dosing.responses import calm_limit


def mornings_missing(course: ArmCourse, limit: int) -> Finding | None:
    """Find days with a session, each without a morning report."""
    run = tail(course.days, lambda day: day.facts.sessions > 0 and day.facts.morning is None)
    return found("mornings-missing", [(day.on, 0) for day in run]) if len(run) >= limit else None


def _weekly_median(course: ArmCourse, weeks_ago: int) -> float | None:
    end = len(course.days) - weeks_ago * WEEK
    pains = [pain for _, pain in mornings(course.days[max(0, end - WEEK) : max(0, end)])]
    return median(pains) if len(pains) >= numbers.FEWEST_MORNINGS.value else None


def week_worse(course: ArmCourse, limit: int) -> Finding | None:
    """Find mornings that climb: two points over the week before, or over it two weeks running."""
    now, before, earlier = (_weekly_median(course, weeks) for weeks in range(3))
    if now is None or before is None or now <= before:
        return None
    if now < before + limit and (earlier is None or before <= earlier):
        return None
    return found("week-worse", mornings(course.days[-WEEK:]), this_week=now, week_before=before)


def _began_at(course: ArmCourse) -> float:
    first = [pain for _, pain in mornings(course.days[:WEEK])]
    return median(first) if first else course.plan.client.usual


def not_better(name: str) -> Callable[[ArmCourse, int], Finding | None]:
    """Return the check for mornings that are not better by an important amount after `limit` days.

    Mornings that began at 0 or 1 cannot get better by that amount, so nothing is found. The rules would then look at an
    activity that the client named; the log does not hold it yet.
    """

    def look(course: ArmCourse, limit: int) -> Finding | None:
        recent = mornings(course.days[-WEEK:])
        began = _began_at(course)
        if len(course.days) < limit or not recent or began < figures.IMPORTANT_POINTS.value:
            return None
        now = median(pain for _, pain in recent)
        better = began - now >= figures.IMPORTANT_POINTS.value or began - now >= figures.IMPORTANT_SHARE.value * began
        return None if better else found(name, recent, began_at=began, now_at=now)

    return look


def usual_too_high(course: ArmCourse, limit: int) -> Finding | None:
    """Find two quiet weeks of mornings whose median is a point or more under the usual pain."""
    recent = mornings(course.days[-FORTNIGHT:])
    if len(course.days) < FORTNIGHT or len(recent) < limit or not is_quiet(course):
        return None
    now, usual = median(pain for _, pain in recent), course.plan.client.usual
    return found("usual-too-high", recent, usual=usual, could_be=now) if now <= usual - 1 else None


def usual_too_low(course: ArmCourse, limit: int) -> Finding | None:
    """Find two weeks of mornings, steady and without a flare, whose median is over what counts as calm."""
    recent = mornings(course.days[-FORTNIGHT:])
    if len(recent) < limit or not is_quiet(course) or not is_no_worse(course):
        return None
    now, usual = median(pain for _, pain in recent), course.plan.client.usual
    return found("usual-too-low", recent, usual=usual, could_be=now) if now > calm_limit(usual) else None


def _is_always(ratings: Sequence[float]) -> bool:
    return len(ratings) >= numbers.FEWEST_ANSWERS.value and len(set(ratings)) == 1


def _work_grew(days: Sequence[ClosedDay]) -> bool:
    works_j = [day.dose.work_j for day in days if day.dose.mode == "training" and day.facts.sessions]
    return bool(works_j) and works_j[-1] >= numbers.WORK_GROWN.value * works_j[0]


def same_answers(course: ArmCourse, limit: int) -> Finding | None:
    """Find answers that have stayed the same for three weeks and more, in which the day's work doubled."""
    during = next((day.facts.during for day in reversed(course.days) if day.facts.during is not None), None)
    morning = next((day.facts.morning for day in reversed(course.days) if day.facts.morning is not None), None)
    if during is None or morning is None:
        return None
    same = tail(course.days, lambda day: day.facts.during in (None, during) and day.facts.morning in (None, morning))
    rated = [day.facts.during for day in same if day.facts.during is not None]
    pains = [pain for _, pain in mornings(same)]
    if len(same) < limit or not _is_always(rated) or not _is_always(pains) or not _work_grew(same):
        return None
    return found("same-answers", [(same[0].on, 0)], days=len(same), during=during, morning=morning)

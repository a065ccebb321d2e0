"""One number a client, read off a finished course: flare days, the way to a goal, capacity gained, standing still."""

from itertools import pairwise

import numpy as np

from webapp.forecast import figures
from webapp.forecast.course import CohortCourse
from webapp.forecast.kernels import Floats
from webapp.forecast.offers import ALARMS, SETTLED
from webapp.forecast.prescribers import Tables
from webapp.forecast.question import lift_j
from webapp.forecast.responders import Flags
from webapp.forecast.steps import Whole

CLOSE = 1e-9


def flare_days(course: CohortCourse) -> Floats:
    """Count the days that were felt as flared or sharp, whatever was reported."""
    count: Floats = np.isin(course.truth, ALARMS).sum(axis=0).astype(float)
    return count


def flare_days_to_goal(course: CohortCourse, goal_j: float) -> Floats:
    """Count the same up to the first day whose work reached the goal: plans that go on beyond it compare up to there."""
    is_short = np.cumsum(course.done >= goal_j - CLOSE, axis=0) == 0
    count: Floats = (np.isin(course.truth, ALARMS) & is_short).sum(axis=0).astype(float)
    return count


def _weeks_to(hit: Flags) -> Floats:
    first = hit.argmax(axis=0) / 7
    weeks: Floats = np.where(hit.any(axis=0), first, np.inf)
    return weeks


def weeks_to_do(course: CohortCourse, goal_j: float) -> Floats:
    """Return the weeks to the first day whose work reached the goal, infinite for never."""
    return _weeks_to(course.done >= goal_j - CLOSE)


def weeks_to_settle(course: CohortCourse, goal_j: float) -> Floats:
    """Return the weeks to the first such day that was also settled, infinite for never."""
    return _weeks_to((course.done >= goal_j - CLOSE) & (course.truth == SETTLED))


def capacity_gained(course: CohortCourse) -> Floats:
    """Return what the arm tolerates at the end over what it did at first, as a share (0.5: half as much again)."""
    gained: Floats = course.tolerance[-1] / course.cohort.tolerance - 1
    return gained


def goal_rung(tables: Tables, goal_j: float) -> int:
    """Return the lowest rung whose whole session is the goal's work, or the highest one."""
    ladder, body = tables.plan.ladder, tables.plan.client.body
    works = (each.count.reps * lift_j(body, each.load_kg) for each in ladder.rungs)
    fitting = (number for number, work in enumerate(works, start=1) if work >= goal_j - CLOSE)
    return next(fitting, ladder.top)


def longest_standstill(rungs: Whole, goal: int) -> Whole:
    """Return the most days in a row without a climb, below the goal.

    Args:
        rungs: At the start of each day, of shape (days, clients).
        goal: The rung of the goal.
    """
    run = np.zeros(rungs.shape[1], dtype=np.int64)
    longest = run
    for before, rung in pairwise(rungs):
        run = np.where((rung > before) | (rung >= goal), 0, run + 1)
        longest = np.maximum(longest, run)
    return longest


def stands_still(course: CohortCourse, tables: Tables, goal_j: float) -> Flags:
    """Say who stood still for four weeks or more: no climb, below the goal. Only under our rules."""
    longest = longest_standstill(tables.rung[course.row], goal_rung(tables, goal_j))
    return longest >= figures.STANDSTILL_DAYS.value

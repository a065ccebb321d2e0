"""Measures of a finished course, one number for each client: flare days, weeks to a goal, capacity gained, standstill."""

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
    """Return the days that truly were flared or sharp, whatever the client reported."""
    count: Floats = np.isin(course.truth, ALARMS).sum(axis=0).astype(float)
    return count


def flare_days_to_goal(course: CohortCourse, goal_j: float) -> Floats:
    """Return the flare days before the first day whose work reached the goal.

    Some plans go on beyond the goal, so plans are compared on the days up to it.
    """
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
    """Return the weeks to the first day whose work reached the goal and that was settled, infinite for never."""
    return _weeks_to((course.done >= goal_j - CLOSE) & (course.truth == SETTLED))


def capacity_gained(course: CohortCourse) -> Floats:
    """Return by how much the tolerance grew from the start to the end, as a share (0.5 is half as much again)."""
    gained: Floats = course.tolerance[-1] / course.cohort.tolerance - 1
    return gained


def goal_rung(tables: Tables, goal_j: float) -> int:
    """Return the lowest rung whose whole session reaches the goal's work; the top rung where none does."""
    ladder, body = tables.plan.ladder, tables.plan.client.body
    works = (each.count.reps * lift_j(body, each.load_kg) for each in ladder.rungs)
    fitting = (number for number, work in enumerate(works, start=1) if work >= goal_j - CLOSE)
    return next(fitting, ladder.top)


def longest_standstill(rungs: Whole, goal: int) -> Whole:
    """Return the longest run of days below the goal without a climb, for each client.

    Args:
        rungs: The rung at the start of each day, of shape (days, clients).
        goal: The rung of the goal.
    """
    run = np.zeros(rungs.shape[1], dtype=np.int64)
    longest = run
    for before, rung in pairwise(rungs):
        run = np.where((rung > before) | (rung >= goal), 0, run + 1)
        longest = np.maximum(longest, run)
    return longest


def stands_still(course: CohortCourse, tables: Tables, goal_j: float) -> Flags:
    """Say which clients had no climb for four weeks or more below the goal. Only for courses under our rules."""
    longest = longest_standstill(tables.rung[course.row], goal_rung(tables, goal_j))
    return longest >= figures.STANDSTILL_DAYS.value

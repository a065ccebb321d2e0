"""One number a client, read off a finished course: flare days, the way to a goal, capacity gained."""

import numpy as np

from webapp.dosing.responses import RESPONSES
from webapp.forecast.course import Course
from webapp.forecast.kernels import Floats
from webapp.forecast.responders import Flags

SETTLED, FLARED, SHARP = (RESPONSES.index(word) for word in ("settled", "flared", "sharp"))
CLOSE = 1e-9


def flare_days(course: Course) -> Floats:
    """Count the days classed as flared or sharp."""
    count: Floats = np.isin(course.response, (FLARED, SHARP)).sum(axis=0).astype(float)
    return count


def _weeks_to(hit: Flags) -> Floats:
    first = hit.argmax(axis=0) / 7
    weeks: Floats = np.where(hit.any(axis=0), first, np.inf)
    return weeks


def weeks_to_do(course: Course, goal_j: float) -> Floats:
    """Give the weeks to the first day whose work reached the goal, infinite for never."""
    return _weeks_to(course.done >= goal_j - CLOSE)


def weeks_to_settle(course: Course, goal_j: float) -> Floats:
    """Give the weeks to the first such day that was also settled, infinite for never."""
    return _weeks_to((course.done >= goal_j - CLOSE) & (course.response == SETTLED))


def capacity_gained(course: Course) -> Floats:
    """Give what the arm tolerates at the end over what it did at first, as a share (0.5: half as much again)."""
    gained: Floats = course.tolerance[-1] / course.cohort.tolerance - 1
    return gained

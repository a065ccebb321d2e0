"""The weeks ahead of one client: from where the arm stands today, under one version, with either practitioner.

A simulation on invented clients, not a promise.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.forecast import figures
from webapp.forecast.course import CohortCourse, continue_run
from webapp.forecast.kernels import Floats
from webapp.forecast.likeness import Likely, PastDay, likely
from webapp.forecast.measures import flare_days
from webapp.forecast.prescribers import TRAINING, OurRules
from webapp.forecast.responders import Cohort, Flags, draw
from webapp.forecast.rows_ahead import RowsAhead

CLIENTS = 300
DRAWN_FROM = 400
"""Virtual clients of each kind that those like the client are drawn from."""
MOST_PAST_DAYS = 56
CUTS = (10, 50, 90)
WEEK = 7


class Band(NamedTuple):
    """The 10th, 50th and 90th percentile; None is never, within the weeks looked at."""

    low: float | None
    middle: float | None
    high: float | None


@dataclass(frozen=True)
class WeeksAhead:
    """What the virtual clients come to under one version with one practitioner.

    Attributes:
        work_j: At today's start and at the end of each week, the work of a day of training, joules.
        rung: At the same times, the rung.
        flare_days: Days that flared, in all weeks together.
        rest_days: Days of rest or of a hold, in all weeks together.
        weeks_to_top: Weeks to the first day on the highest rung at full range.
    """

    work_j: tuple[Band, ...]
    rung: tuple[Band, ...]
    flare_days: Band
    rest_days: Band
    weeks_to_top: Band


class Ahead(NamedTuple):
    """What is asked, as values that may be a key.

    Attributes:
        plan: The version that is in force; its body and usual pain are those of the virtual clients.
        past: The closed days of the arm, the oldest first.
        weeks: The weeks to look ahead.
        seed: The seed; the same seed gives the same answer.
    """

    plan: Plan
    past: tuple[PastDay, ...]
    weeks: int
    seed: int


class Followed(NamedTuple):
    """What is followed: a version, where the arm stands under it today, and who the practitioner is.

    Attributes:
        plan: The version, fitted to the client.
        state: The arm's state at the start of today.
        acts: Whether the practitioner takes up what the review offers. Either one ends a hold after some days.
    """

    plan: Plan
    state: State
    acts: bool


def _band(values: NDArray[Any]) -> Band:
    cuts = np.percentile(values.astype(float), CUTS, method="inverted_cdf")
    return Band(*(float(cut) if np.isfinite(cut) else None for cut in cuts))


def _weeks_to(hit: Flags) -> Floats:
    weeks: Floats = np.where(hit.any(axis=0), hit.argmax(axis=0) / WEEK, np.inf)
    return weeks


def _summed_up(rows: RowsAhead, course: CohortCourse) -> WeeksAhead:
    ends = course.row[[0, *range(WEEK - 1, len(course.row), WEEK)]]
    return WeeksAhead(
        work_j=tuple(_band(rows.trained_work[row]) for row in ends),
        rung=tuple(_band(rows.rung[row]) for row in ends),
        flare_days=_band(flare_days(course)),
        rest_days=_band((rows.mode[course.row] != TRAINING).sum(axis=0)),
        weeks_to_top=_band(_weeks_to(~rows.is_below_goal[course.row].astype(bool))),
    )


def _with_other_usuals(cohort: Cohort) -> Cohort:
    """Return a cohort in which two of three have a higher usual pain than was agreed; their past tells them apart."""
    return replace(cohort, usual=cohort.usual + np.arange(cohort.count) % (int(figures.USUAL_OFF.value) + 1))


@lru_cache(maxsize=8)
def _like(question: Ahead) -> tuple[Likely, tuple[int, ...]]:
    """Draw the virtual clients who are like the client, and return them with the client's mornings."""
    past = question.past[-MOST_PAST_DAYS:]
    drawn = draw(question.plan.client, DRAWN_FROM, len(past) + WEEK * question.weeks, question.seed)
    found = likely(_with_other_usuals(drawn) if past else drawn, past, CLIENTS, question.seed)
    return found, tuple(day.morning for day in past)


@lru_cache(maxsize=64)
def weeks_ahead(question: Ahead, followed: Followed) -> WeeksAhead:
    """Run the virtual clients who are like one client under a version.

    Several versions that are asked about with the same question meet the same clients on the same days.
    """
    (cohort, arms), mornings = _like(question)
    rows = RowsAhead(followed.plan, followed.state)
    rules = OurRules(rows, cohort.count, acts=followed.acts)
    return _summed_up(rows, continue_run(rules, arms.copied(), followed.plan, mornings))

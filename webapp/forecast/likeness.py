"""Virtual clients who are like one real client: those whose ratings, had they done the same work, come close to the real ones.

Every virtual client does the work that the client did, day by day. How far its ratings lie from the client's says how
likely it is to be drawn for the weeks ahead. Without days to go by, all are equally likely.
"""

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import NamedTuple

import numpy as np

from webapp.forecast import figures
from webapp.forecast.arms import Arms, Ratings
from webapp.forecast.diary import UNKNOWN
from webapp.forecast.kernels import Floats
from webapp.forecast.responders import Cohort

TRAITS = ("kind", "usual", "tolerance", "gain", "soreness", "ache", "fitness_days", "fatigue_days")


class PastDay(NamedTuple):
    """One closed day of the client: the work done in the sore direction (joules), and the two ratings, -1 if not told."""

    work_j: float
    during: int
    morning: int


class Likely(NamedTuple):
    """The virtual clients that were drawn: their arms as they stand after the past days, and the days ahead."""

    cohort: Cohort
    arms: Arms


def _missed_by(felt: Floats, rating: int) -> Floats:
    """Return how badly ratings fit: squared points, in units of the tolerance for a rating; 0 where none was told."""
    if rating == UNKNOWN:
        return np.zeros_like(felt)
    off: Floats = (np.clip(felt, 0, 10) - rating) / figures.LIKENESS_POINTS.value
    return off**2


def _replayed(arms: Arms, past: Sequence[PastDay]) -> Floats:
    """Let all virtual clients live the past days; return how badly the ratings of each fit."""
    misfit = np.zeros(arms.cohort.count)
    for day in past:
        work = np.full(arms.cohort.count, day.work_j)
        felt = arms.feel(work)
        misfit += _missed_by(felt, day.during) + _missed_by(arms.sleep(work), day.morning)
    return misfit


def weights_of(misfit: Floats) -> Floats:
    """Return how likely each virtual client is, together 1.

    A long past would leave a single one. So the weights are made milder until enough of them count.
    """
    mildness = 1.0
    while True:
        raw = np.exp(-0.5 * mildness * (misfit - misfit.min()))
        weights: Floats = raw / raw.sum()
        if 1 / (weights**2).sum() >= min(figures.LIKE_AT_LEAST.value, misfit.size):
            return weights
        mildness /= 2


def _drawn(cohort: Cohort, chosen: Ratings) -> Cohort:
    """Return a cohort with the traits of the chosen ones; each has days of its own, so that no two live the same."""
    traits = {name: getattr(cohort, name)[chosen] for name in TRAITS}
    each = np.arange(chosen.size) % cohort.count
    days = {
        field.name: getattr(cohort, field.name)[:, each]
        for field in fields(Cohort)
        if field.name not in (*TRAITS, "kinds", "population")
    }
    busy = days["busy"] * (traits["tolerance"] / cohort.tolerance[each])
    return replace(cohort, **traits, **(days | {"busy": busy}))


def likely(cohort: Cohort, past: Sequence[PastDay], count: int, seed: int) -> Likely:
    """Draw virtual clients by how well they fit a client's past.

    Args:
        cohort: The clients to draw from, with all days: those of the past, then those ahead.
        past: The client's closed days, the oldest first.
        count: The number of clients to draw, some of them perhaps several times.
        seed: The seed of the drawing.
    """
    arms = Arms(cohort)
    weights = weights_of(_replayed(arms, past))
    rng = np.random.Generator(np.random.PCG64(seed))
    # One throw for all: every weight gets its share of the clients to within one.
    throws = (rng.random() + np.arange(count)) / count
    chosen = np.searchsorted(np.cumsum(weights), throws).clip(max=cohort.count - 1)
    drawn = _drawn(cohort, chosen)
    return Likely(drawn, arms.of(drawn, chosen))

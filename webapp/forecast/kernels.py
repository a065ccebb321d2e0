"""Soreness, fitness and fatigue after one day's work, by the days since then. Pure arithmetic."""

from math import log
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from webapp.forecast import figures

Floats = NDArray[np.float64]


def soreness_after(days: Floats, peak_days: float = figures.SORENESS_PEAK_DAYS.value) -> Floats:
    """Return soreness as a share of its peak, by the days since the work: (t/p)² e^(2 − 2t/p), 1 at p days.

    The window (builds for a day, peaks at one to three days, gone within a week) is published (doms-2003); the
    curve through it is our own.
    """
    since = days / peak_days
    share: Floats = since**2 * np.exp(2 - 2 * since)
    return share


class FitnessFatigue(NamedTuple):
    """The published two-part form: weights of fitness and fatigue, and the days in which each fades to 1/e."""

    fitness: float
    fatigue: float
    fitness_days: float
    fatigue_days: float

    def after_one(self, days: Floats | float) -> Floats:
        """Return the net effect of one unit of work after `days` days."""
        kept = self.fitness * np.exp(-np.asarray(days) / self.fitness_days)
        net: Floats = kept - self.fatigue * np.exp(-np.asarray(days) / self.fatigue_days)
        return net

    @property
    def crossing_day(self) -> float:
        """The day on which the fitness and the fatigue of one unit of work are equal."""
        return self._scale * log(self.fatigue / self.fitness)

    @property
    def best_day(self) -> float:
        """The day on which the net effect of one unit of work is highest."""
        return self._scale * log(self.fatigue * self.fitness_days / (self.fitness * self.fatigue_days))

    @property
    def _scale(self) -> float:
        return self.fitness_days * self.fatigue_days / (self.fitness_days - self.fatigue_days)


GENERIC = FitnessFatigue(
    figures.FITNESS_WEIGHT.value,
    figures.FATIGUE_WEIGHT.value,
    figures.GENERIC_FITNESS_DAYS.value,
    figures.GENERIC_FATIGUE_DAYS.value,
)

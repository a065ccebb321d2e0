"""How the virtual arms react to a day: the rating of the sessions, the soreness after them, the next morning.

Tolerance follows the published fitness-fatigue form. Work over the tolerance causes soreness.
"""

from copy import copy

import numpy as np
from numpy.typing import NDArray

from webapp.forecast import figures
from webapp.forecast.kernels import Floats, soreness_after
from webapp.forecast.responders import Cohort

Ratings = NDArray[np.int64]


def rated(points: Floats) -> Ratings:
    """Return points of pain rounded to whole numbers from 0 to 10."""
    return np.clip(np.rint(points), 0, 10).astype(np.int64)


class Arms:
    """One arm of every client of a cohort, day after day."""

    def __init__(self, cohort: Cohort) -> None:
        self.cohort = cohort
        self.day = 0
        self._fitness = np.zeros(cohort.count)
        self._fatigue = np.zeros(cohort.count)
        self._over = np.zeros((cohort.days, cohort.count))
        # Soreness is computed for mornings only: the first morning after the work, the second, and so on.
        since = np.arange(cohort.days, dtype=float) + figures.MORNING_AFTER_DAYS.value
        self._soreness = soreness_after(since, cohort.population.peak_days)
        self._keep_fitness = np.exp(-1 / cohort.fitness_days)
        self._keep_fatigue = np.exp(-1 / cohort.fatigue_days)
        weights = figures.FITNESS_WEIGHT.value * cohort.fitness_days, figures.FATIGUE_WEIGHT.value * cohort.fatigue_days
        # One joule a day, kept up for long, raises the net effect by this divisor. So `gain` is joules per joule.
        self._scale = cohort.gain / np.maximum(weights[0] - weights[1], 1.0)
        self._sore = np.zeros(cohort.count)

    @property
    def tolerance(self) -> Floats:
        """The joules of work that would leave no soreness today."""
        net = figures.FITNESS_WEIGHT.value * self._fitness - figures.FATIGUE_WEIGHT.value * self._fatigue
        first = self.cohort.tolerance
        tolerance: Floats = np.maximum(first + self._scale * net, figures.LEAST_TOLERANCE.value * first)
        return tolerance

    def _base(self, day: int) -> Floats:
        halvings = 0.0 if self.cohort.population.usual_stays else day / figures.SYMPTOM_HALF_LIFE_DAYS.value
        usual: Floats = self.cohort.usual * 0.5**halvings
        return usual

    def feel(self, work: Floats) -> Floats:
        """Return the points felt in the day's sessions, given their work in joules (0 where there was none)."""
        ache = self.cohort.ache * work / self.tolerance
        felt: Floats = np.maximum(self._base(self.day) + self._sore + ache, self.cohort.population.least_session)
        return felt

    def sleep(self, work: Floats) -> Floats:
        """Add the day's work, go on to the next day, and return the points felt on that morning."""
        load = work + self.cohort.busy[self.day]
        self._over[self.day] = np.maximum(load / self.tolerance - 1, 0)
        self._fitness = (self._fitness + load) * self._keep_fitness
        self._fatigue = (self._fatigue + load) * self._keep_fatigue
        past = self._over[: self.day + 1]
        self._sore = self.cohort.soreness * (self._soreness[self.day :: -1] @ past)
        self.day += 1
        morning: Floats = self._base(self.day) + self._sore
        return morning

    def copied(self) -> "Arms":
        """Return arms that stand as these do, and go on for themselves."""
        return self.of(self.cohort, np.arange(self.cohort.count))

    def of(self, cohort: Cohort, chosen: Ratings) -> "Arms":
        """Return the arms of some clients as they stand now.

        Args:
            cohort: The chosen clients, with their days.
            chosen: The place of each of them in this cohort.
        """
        arms = copy(self)
        arms.cohort = cohort
        for name in ("_over", "_fitness", "_fatigue", "_keep_fitness", "_keep_fatigue", "_scale", "_sore"):
            setattr(arms, name, getattr(self, name)[..., chosen])
        return arms

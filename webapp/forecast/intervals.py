"""95 % intervals by the bootstrap: the same clients are drawn again with replacement. Seeded."""

from typing import NamedTuple

import numpy as np

from webapp.forecast.kernels import Floats

ROUNDS = 400
COVER = 0.95


class Interval(NamedTuple):
    """A figure and the bounds of its interval; infinite where too few clients reached the goal."""

    middle: float
    low: float
    high: float


class Redraw:
    """Bootstrap samples of the clients, one for each round. Figures that are compared share the samples."""

    def __init__(self, clients: int, seed: int, rounds: int = ROUNDS) -> None:
        rng = np.random.Generator(np.random.PCG64(seed))
        self._rows = rng.integers(0, clients, size=(rounds, clients))

    def of_mean(self, values: Floats) -> Interval:
        """Return the mean of one value a client."""
        return self._cut(float(values.mean()), values[self._rows].mean(axis=1))

    def of_median(self, values: Floats) -> Interval:
        """Return the median of one value a client, infinite ones among them."""
        return self._cut(float(np.median(values)), np.median(values[self._rows], axis=1))

    def _cut(self, middle: float, drawn: Floats) -> Interval:
        tail = (1 - COVER) / 2
        # This method does not interpolate between two draws, because a draw may be infinite.
        low, high = np.quantile(drawn, [tail, 1 - tail], method="inverted_cdf")
        return Interval(middle, float(low), float(high))

"""Ninety-five per cent intervals by drawing the same clients again. Seeded like everything here."""

from typing import NamedTuple

import numpy as np

from webapp.forecast.kernels import Floats

ROUNDS = 400
COVER = 0.95


class Interval(NamedTuple):
    """A figure and the bounds of its interval; infinite where too few clients got there."""

    middle: float
    low: float
    high: float


class Redraw:
    """The same clients drawn again with replacement, so many rounds; shared by all that is compared."""

    def __init__(self, clients: int, seed: int, rounds: int = ROUNDS) -> None:
        rng = np.random.Generator(np.random.PCG64(seed))
        self._rows = rng.integers(0, clients, size=(rounds, clients))

    def of_mean(self, values: Floats) -> Interval:
        """Give the mean of one value a client."""
        return self._cut(float(values.mean()), values[self._rows].mean(axis=1))

    def of_median(self, values: Floats) -> Interval:
        """Give the median of one value a client, infinite ones among them."""
        return self._cut(float(np.median(values)), np.median(values[self._rows], axis=1))

    def _cut(self, middle: float, drawn: Floats) -> Interval:
        tail = (1 - COVER) / 2
        # Between two draws nothing is interpolated: a draw may be infinite.
        low, high = np.quantile(drawn, [tail, 1 - tail], method="inverted_cdf")
        return Interval(middle, float(low), float(high))

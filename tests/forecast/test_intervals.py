"""The intervals cover what they say they cover."""

import numpy as np
import pytest

from webapp.forecast.intervals import Redraw

WORLDS, CLIENTS = 300, 120


def _covered(tell, truth, draw):
    rng = np.random.Generator(np.random.PCG64(3))
    hits = 0
    for world in range(WORLDS):
        interval = tell(Redraw(CLIENTS, world, rounds=300), draw(rng))
        hits += interval.low <= truth <= interval.high
    return hits / WORLDS


def test_a_mean_with_a_known_truth_lies_in_its_interval_in_about_ninety_five_of_a_hundred_worlds():
    # Exponential with mean 2: lopsided, as flare days are.
    share = _covered(lambda redraw, values: redraw.of_mean(values), 2.0, lambda rng: rng.exponential(2.0, CLIENTS))
    assert share == pytest.approx(0.95, abs=0.04)


def test_a_median_with_a_known_truth_lies_in_its_interval_likewise():
    share = _covered(lambda redraw, values: redraw.of_median(values), 8.0, lambda rng: rng.normal(8.0, 3.0, CLIENTS))
    assert share == pytest.approx(0.95, abs=0.04)


def test_a_wider_spread_gives_a_wider_interval():
    rng = np.random.Generator(np.random.PCG64(5))
    values = rng.normal(0, 1, CLIENTS)
    narrow, wide = Redraw(CLIENTS, 1).of_mean(values), Redraw(CLIENTS, 1).of_mean(3 * values)
    assert wide.high - wide.low == pytest.approx(3 * (narrow.high - narrow.low))


def test_a_median_that_most_never_reach_is_infinite():
    values = np.where(np.arange(CLIENTS) < 20, 5.0, np.inf)
    assert Redraw(CLIENTS, 1).of_median(values) == (np.inf, np.inf, np.inf)

"""Virtual clients: their traits and the events of their days, drawn from one seed before a run.

So the same clients can follow several plans, and meet the same days under each.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from webapp.dosing.figures import POUND
from webapp.dosing.settings import Client
from webapp.forecast import figures
from webapp.forecast.figures import KINDS, Kind
from webapp.forecast.kernels import Floats
from webapp.forecast.populations import ORDINARY, Population
from webapp.forecast.question import lift_j

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Cohort:
    """Virtual clients, sorted by kind. Fields by day have the shape (days, clients).

    Attributes:
        kinds: The ids of the kinds, in order.
        population: The traits that all of them share.
        kind: For each client, the index of its kind.
        usual: Morning pain at the start, points.
        tolerance: Joules a day (of the sore direction) that leave no soreness at the start.
        gain, soreness, ache, fitness_days, fatigue_days: The traits of `figures.Kind`, for each client.
        missed, unreported: Days without the session, mornings without the report.
        busy: Joules of other work on the day, beside the routine.
        session_noise, morning_noise: The error of each rating, points.
    """

    kinds: tuple[str, ...]
    population: Population
    kind: NDArray[np.int64]
    usual: Floats
    tolerance: Floats
    gain: Floats
    soreness: Floats
    ache: Floats
    fitness_days: Floats
    fatigue_days: Floats
    missed: Flags
    unreported: Flags
    busy: Floats
    session_noise: Floats
    morning_noise: Floats

    @property
    def days(self) -> int:
        """The number of days."""
        return int(self.missed.shape[0])

    @property
    def count(self) -> int:
        """The number of clients of all kinds together."""
        return int(self.kind.size)


def _noise() -> tuple[float, float]:
    """Return the published noise of a rating in two parts: the steady part of a person, and the part of a day."""
    whole, share = figures.RATING_NOISE.value, figures.DAILY_NOISE_SHARE.value
    return whole * sqrt(1 - share), whole * sqrt(share)


def _draw_kind(
    number: int, kind: Kind, client: Client, shape: tuple[int, int], rng: np.random.Generator, population: Population
) -> Cohort:
    count, spread_within = shape[1], figures.SPREAD.value

    def around(median: float, spread: float = spread_within) -> Floats:
        drawn: Floats = median * np.exp(spread * rng.standard_normal(count))
        return drawn

    steady, daily = _noise()
    tolerance = around(kind.tolerance_lifts.value * lift_j(client.body, POUND.value))
    busy = figures.BUSY_LOAD.value * rng.exponential(size=shape) * tolerance
    return Cohort(
        kinds=(kind.id,),
        population=population,
        kind=np.full(count, number),
        usual=np.maximum(population.true_usual(client.usual) + steady * rng.standard_normal(count), 0.0),
        tolerance=tolerance,
        gain=around(kind.gain.value) * population.adapts,
        soreness=around(kind.soreness.value),
        ache=around(kind.ache.value),
        fitness_days=around(figures.FITNESS_DAYS.value, figures.TIME_SPREAD.value),
        fatigue_days=around(figures.FATIGUE_DAYS.value, figures.TIME_SPREAD.value),
        missed=rng.random(shape) < population.missed_share,
        unreported=rng.random(shape) < figures.UNREPORTED_SHARE.value,
        busy=np.where(rng.random(shape) < figures.BUSY_SHARE.value, busy, 0.0),
        session_noise=daily * rng.standard_normal(shape),
        morning_noise=daily * rng.standard_normal(shape),
    )


def draw(
    client: Client,
    clients: int,
    days: int,
    seed: int,
    kinds: Sequence[Kind] = KINDS,
    population: Population = ORDINARY,
) -> Cohort:
    """Draw a cohort that shares one client's body and usual pain.

    Args:
        client: Free of faults.
        clients: The number of clients of each kind, 1 or more.
        days: The number of days, 1 or more.
        seed: 0 or more; the same seed draws the same cohort.
        kinds: The kinds; each is drawn from a random stream of its own.
        population: The traits that all clients share; every population gets the same random numbers.
    """
    streams = np.random.SeedSequence(seed).spawn(len(kinds))
    drawn = [
        _draw_kind(number, kind, client, (days, clients), np.random.Generator(np.random.PCG64(stream)), population)
        for number, (kind, stream) in enumerate(zip(kinds, streams, strict=True))
    ]
    joined = {
        field.name: np.concatenate([getattr(part, field.name) for part in drawn], axis=-1)
        for field in fields(Cohort)
        if field.name not in ("kinds", "population")
    }
    return Cohort(kinds=tuple(kind.id for kind in kinds), population=population, **joined)

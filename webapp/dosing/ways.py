"""Other ways to do a day's session: the short day, the session split around sport, and the times a client may change.

No way asks more work than the day itself.
"""

from dataclasses import asdict
from math import ceil, floor
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.count import CLOSE
from webapp.dosing.dose import Dose, DoseSet
from webapp.dosing.settings import BOUNDS, Body, Tempo

PAUSES = ("prepare_seconds", "rest_seconds", "change_arm_seconds")
"""Fields of `Tempo` that are pauses. Longer pauses do no harm, so a client may make them much longer."""


class AroundSport(NamedTuple):
    """One session split in two: reps of each set without weight before sport, and with the day's weight after it."""

    before: tuple[int, ...]
    after: tuple[int, ...]


class Adjustable(NamedTuple):
    """A time that a client may change: the routine's own value, the lowest and the highest, all in seconds."""

    seconds: float
    low: float
    high: float


def short_reps(dose: Dose) -> tuple[int, ...]:
    """Return the reps of a short day: half of each set, but at least 5 reps or the whole set where it has fewer."""
    share, least = figures.SHORT_SHARE.value, int(figures.SHORT_REPS_AT_LEAST.value)
    return tuple(min(each.reps, max(least, ceil(each.reps * share))) for each in dose.sets)


def _loads_worth(body: Body, dose_set: DoseSet, unloaded: int) -> int:
    """Return how many loaded reps of a set are left when `unloaded` reps without weight take their share of its work."""
    price = lever_kg_m(body, 0) / lever_kg_m(body, dose_set.load_kg)
    return floor(dose_set.reps - unloaded * price + CLOSE)


def around_sport(body: Body, dose: Dose) -> AroundSport:
    """Split one session of a dose into a part before sport and a part after it.

    Args:
        body: The client's body.
        dose: The dose of a training day.

    Returns:
        Reps for each set of the dose. For each set, both parts together are at most the work of the set. A set of one
        rep is done after sport.
    """
    share = figures.BEFORE_SPORT_SHARE.value
    before = tuple(max(1, floor(each.reps * share + CLOSE)) if each.reps > 1 else 0 for each in dose.sets)
    after = tuple(_loads_worth(body, each, reps) for each, reps in zip(dose.sets, before, strict=True))
    return AroundSport(before, after)


def adjustable(tempo: Tempo) -> dict[str, Adjustable]:
    """List the times of a session that a client may change.

    Returns:
        The times by field of `Tempo`. The pace of a rep stays within `BOUNDS`. A pause may be ten times the routine's.
    """
    most = figures.LONGER_PAUSES.value
    return {
        name: Adjustable(seconds, BOUNDS[name].low, max(BOUNDS[name].high, seconds * most * (name in PAUSES)))
        for name, seconds in asdict(tempo).items()
    }

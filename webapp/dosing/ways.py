"""Other ways through a day's session: the short day, the split about sport, and the times a client may change.

Pure: knows a dose and its figures. Each way does all that it asks within the day's own work.
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
"""What gives time only: longer does no harm, so a client may stretch it far."""


class AroundSport(NamedTuple):
    """One session in two: reps of each set with no weight before sport, and with the day's weight after it."""

    before: tuple[int, ...]
    after: tuple[int, ...]


class Adjustable(NamedTuple):
    """A time that a client may change: the routine's own, the least and the most, all in seconds."""

    seconds: float
    low: float
    high: float


def short_reps(dose: Dose) -> tuple[int, ...]:
    """Give the reps of a short day: every direction of the dose, half the reps, at least 5 where the dose has as many."""
    share, least = figures.SHORT_SHARE.value, int(figures.SHORT_REPS_AT_LEAST.value)
    return tuple(min(one.reps, max(least, ceil(one.reps * share))) for one in dose.sets)


def _loads_worth(body: Body, one: DoseSet, unloaded: int) -> int:
    """Give how many reps of a set leave room for so many without its weight."""
    price = lever_kg_m(body, 0) / lever_kg_m(body, one.load_kg)
    return floor(one.reps - unloaded * price + CLOSE)


def around_sport(body: Body, dose: Dose) -> AroundSport:
    """Split one session of a dose about sport.

    Args:
        body: Whose hand.
        dose: Of a training day.

    Returns:
        Reps for each of its sets. Set by set, the work of both parts is at most that of the set; a set of one rep
        is left for after.
    """
    share = figures.BEFORE_SPORT_SHARE.value
    before = tuple(max(1, floor(one.reps * share + CLOSE)) if one.reps > 1 else 0 for one in dose.sets)
    after = tuple(_loads_worth(body, one, reps) for one, reps in zip(dose.sets, before, strict=True))
    return AroundSport(before, after)


def adjustable(tempo: Tempo) -> dict[str, Adjustable]:
    """List the times of a session that a client may change.

    Returns:
        By field of `Tempo`. The pace of a rep stays within `BOUNDS`; a pause may grow to ten times the routine's.
    """
    most = figures.LONGER_PAUSES.value
    return {
        name: Adjustable(seconds, BOUNDS[name].low, max(BOUNDS[name].high, seconds * most * (name in PAUSES)))
        for name, seconds in asdict(tempo).items()
    }

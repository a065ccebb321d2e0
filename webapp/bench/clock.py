"""Times a piece of work and, in the same run, a bare loop (the floor); their times per item are compared."""

import gc
import time
from collections.abc import Callable
from statistics import median
from typing import Any, NamedTuple

ROUNDS = 5
FLOOR_COUNT = 100_000
"""Look-ups of the floor's loop, whatever the count of the work: a shorter loop is too short for the clock."""
Work = Callable[[], object]


class Timed(NamedTuple):
    """Processor time in seconds: the median of several rounds, the least and the most."""

    middle: float
    least: float
    most: float


def seconds_of(work: Work, rounds: int = ROUNDS) -> Timed:
    """Measure the processor time of a piece of work, so that other work on the machine counts less.

    Args:
        work: Called once a round, after one call that warms up.
        rounds: 1 or more.
    """
    work()
    gc.collect()
    took = []
    for _ in range(rounds):
        began = time.process_time()
        work()
        took.append(time.process_time() - began)
    return Timed(median(took), min(took), max(took))


def floor_of(count: int) -> Work:
    """Return a bare loop of `count` dictionary look-ups: no Python code that reads each item can be faster."""
    known = {number: number for number in range(1024)}

    def loop() -> None:
        for number in range(count):
            known[number & 1023]

    return loop


def measured(work: Work, count: int, per: str, rounds: int = ROUNDS) -> dict[str, Any]:
    """Time a piece of work and its floor.

    Args:
        work: Does `count` items.
        count: The number of items.
        per: The name of an item, for the reader.
        rounds: 1 or more.
    """
    took, floor = seconds_of(work, rounds), seconds_of(floor_of(FLOOR_COUNT), rounds)
    each, bare = took.middle / count, floor.middle / FLOOR_COUNT
    return {
        "count": count,
        "per": per,
        "milliseconds": round(1e3 * took.middle, 3),
        "least_milliseconds": round(1e3 * took.least, 3),
        "most_milliseconds": round(1e3 * took.most, 3),
        "microseconds_each": round(1e6 * each, 3),
        "times_the_floor": round(each / bare, 1),
    }

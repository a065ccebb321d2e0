"""Reps of one session over the four directions, and the work they add up to."""

from dataclasses import dataclass
from functools import lru_cache

from webapp.dosing import figures
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.settings import DIRECTION_OF, DIRECTIONS, SIDE_DIRECTIONS, Body

CLOSE = 1e-9
"""Two amounts of work that differ by less than this, in joules, count as equal."""


@dataclass(frozen=True)
class Count:
    """Reps of one session: `reps` palm down and palm up, `side_reps` to either side."""

    reps: int
    side_reps: int

    def is_within(self, most: "Count") -> bool:
        """Say whether no set has more reps than `most` has."""
        return self.reps <= most.reps and self.side_reps <= most.side_reps


def is_side(movement: str) -> bool:
    """Say whether a movement is one of the two side-to-side directions."""
    return DIRECTION_OF[movement] in SIDE_DIRECTIONS


def session_work_j(body: Body, load_kg: float, count: Count, range_fraction: float = 1.0) -> float:
    """Return the work of one session over all four directions, in joules."""
    palm_j, side_j = _rep_of_each_j(body, load_kg, range_fraction)
    return count.reps * palm_j + count.side_reps * side_j


@lru_cache(4096)
def _rep_of_each_j(body: Body, load_kg: float, range_fraction: float) -> tuple[float, float]:
    """Return the work of one rep palm down and one palm up, and of one to either side."""
    each = {name: work_of_rep_j(body, load_kg, *arc_degrees(name, range_fraction)) for name in DIRECTIONS}
    sides = sum(each[name] for name in SIDE_DIRECTIONS)
    return sum(each.values()) - sides, sides


def side_goal(reps: int, least: int = int(figures.SIDE_REPS_AT_LEAST.value)) -> int:
    """Return the reps to either side: two thirds of the palm reps, and never fewer than `least`."""
    return max(least, round(reps * figures.SIDE_SHARE.value))

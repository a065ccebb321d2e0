"""Movements of a practice's own: within which bounds their arc, their tempo and their words lie, and what share of the counted work they lift.

An own lift takes the place of the shipped lift of its direction. The rules count it as that lift. Its arc is never wider, so the work
that is counted is never less than the work that is lifted.
"""

from collections.abc import Mapping
from math import ceil

from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.dose import dose
from webapp.dosing.plan import Plan
from webapp.dosing.settings import BOUNDS, DIRECTION_OF, Bound
from webapp.dosing.state import State

LEAST_OF_ARC = 0.5
"""The least share of the full arc: half range is the smallest step of ease. Own choice."""


def _part_of(degrees: float) -> Bound:
    return Bound(ceil(degrees * LEAST_OF_ARC), degrees, "degrees", "own-choice")


def _arcs_of(movement: str) -> dict[str, Bound]:
    below, above = arc_degrees(DIRECTION_OF[movement])
    return {"arc_up": _part_of(above), "arc_down": _part_of(below)}


ARCS: Mapping[str, Mapping[str, Bound]] = {
    **{movement: _arcs_of(movement) for movement in DIRECTION_OF},
    "fingers": {},
    "circles_thumb_first": {"arc_up": _part_of(32)},
    "circles_little_first": {"arc_up": _part_of(32)},
    "stretch_palm_down": {"arc_down": _part_of(58)},
    "stretch_palm_up": {"arc_down": _part_of(58)},
    "stretch_palm_up_soft": {"arc_down": _part_of(55)},
}
"""By shipped movement, the ends of its arc that an own movement may set, in degrees from a straight wrist.

The most of a lift is the full range that the core counts with; that of a circle or a stretch is what is drawn of the shipped one.
A circle is as wide down as up. The most is an own choice but for the lifts.
"""

TEMPOS: Mapping[str, Mapping[str, Bound]] = {
    "lift": {name: BOUNDS[name] for name in ("up_seconds", "down_seconds")},
    "warm_up": {name: BOUNDS[name] for name in ("reps", "seconds_each")},
    "stretch": {"longest_hold_seconds": BOUNDS["longest_hold_seconds"]},
}
"""By kind, the times that an own movement may set. A lift has no hold at the top: its work could not be weighed."""

LETTERS: Mapping[str, int] = {
    "name": 50,
    "line": 200,
    "start": 80,
    "up": 24,
    "down": 24,
    "purpose": 300,
    "leave_out": 300,
}
"""The most characters of each text. Own choice: what a person reads at two metres, and a phone says in one breath."""
MOST_LINES = 4
"""The most lines of how it is done, and of common mistakes. Own choice."""
LONGEST_WORD = 30
"""The longest word, in characters, that is broken nowhere on a small screen. Own choice."""
VERSIONS = Bound(1, 100_000, "versions", "own-choice")


def lifted_share(plan: Plan, state: State) -> float:
    """Return what share of the work that is counted for a state's training day is really lifted, given the arcs; above 0, at most 1."""
    asks = dose(plan, state._replace(mode="training", rest_days=0))
    counted = sum(each.work_j for each in asks.sets)
    if not plan.routine.own or not counted:
        return 1.0
    lifted = 0.0
    for each in asks.sets:
        own = plan.routine.own_lift(each.movement)
        below, above = (own.arc_down, own.arc_up) if own else arc_degrees(each.direction)
        lifted += each.reps * work_of_rep_j(plan.client.body, each.load_kg, below * each.range, above * each.range)
    return lifted / counted

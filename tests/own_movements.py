"""Invented movements of a practice's own, as the mapping that is stored and that a routine carries."""

from typing import Any

from webapp.library.routine import starter

OVER_A_ROLL: dict[str, Any] = {
    "like": "palm_down",
    "name": "Palm down over a roll",
    "how": ["Lay the forearm on a rolled towel.", "Let the hand hang over the roll, and lift it slowly."],
    "mistakes": ["Do not press the elbow into the table."],
    "purpose": "For an elbow that is sore where it lies on the table.",
    "leave_out": "Leave it out while the roll presses on the sore point.",
    "cues": {"start": "Forearm on the roll.", "up": "Lift", "down": "Slowly let it sink"},
    "arc": {"arc_up": 40, "arc_down": 20},
    "tempo": {"up_seconds": 2, "down_seconds": 5},
}
"""A lift with a smaller arc and a slower way down than the shipped one."""

AT_THE_WALL: dict[str, Any] = {
    "like": "stretch_palm_up_soft",
    "name": "Palm at the wall",
    "how": ["Lay the palm on the wall at the height of the hip."],
    "mistakes": [],
    "purpose": "A pull that needs no second hand.",
    "cues": {"start": "Palm on the wall.", "up": "Lean in", "down": "Let go"},
    "arc": {"arc_down": 40},
    "tempo": {"longest_hold_seconds": 30},
}
"""A stretch; its shipped drawing is that of a stretch that is never held longer than 20 seconds."""

ROLL_ID, WALL_ID = "0" * 19 + "1", "0" * 19 + "2"


def carried(content: dict[str, Any], id_: str = ROLL_ID, version: int = 1) -> dict[str, Any]:
    """A movement as a routine carries it."""
    return {"id": id_, "version": version, **content}


def routine_with_own(area: str = "outer_elbow") -> dict[str, Any]:
    """The starter of an area with both movements: the lift in the place of the shipped one, the stretch beside the others."""
    routine = starter(area)
    own = [carried(OVER_A_ROLL), carried(AT_THE_WALL, WALL_ID)]
    return {**routine, "own": own, "stretches": [*routine["stretches"], f"own-{WALL_ID}"]}

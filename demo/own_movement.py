"""A movement of the demo practice's own, and the client whose routine it is in."""

from datetime import datetime, timedelta
from typing import Any

from webapp.records import cases, movements, routines
from webapp.records.database import Database
from webapp.records.practitioners import Practitioner

USER = "isaura-linde"
"""The newcomer whose invitation the demo prints, so that a phone that joins plays the movement."""
HOURS_AGO = 3
OVER_A_ROLL: dict[str, Any] = {
    "like": "palm_down",
    "name": "Palm down over a roll",
    "how": [
        "Roll a towel as thick as your wrist, and lay the forearm on it, palm down.",
        "Let the hand hang over the roll. Raise the back of the hand slowly, then let it sink.",
        "Hold the weight softly: the roll carries the arm.",
    ],
    "mistakes": ["Do not press the elbow into the table.", "Do not follow with the shoulder."],
    "purpose": "The outer side of the forearm, with the sore elbow off the hard table.",
    "leave_out": "Leave it out while the roll presses on the sore point, and tell me.",
    "cues": {"start": "Forearm on the roll, palm down.", "up": "Lift", "down": "Slowly let it sink"},
    "arc": {"arc_up": 40, "arc_down": 25},
    "tempo": {"up_seconds": 2, "down_seconds": 5},
}


def push_own(db: Database, owner: Practitioner, now: datetime) -> None:
    """Make the movement, and push it to its client, who has no phone yet."""
    began = now - timedelta(days=9)
    made = movements.make(db, owner.practice, OVER_A_ROLL, owner.id, "demo", began)
    own, case = movements.find(db, owner.practice, made), cases.find(db, owner.id, USER)
    assert own is not None
    assert case is not None
    newest = routines.latest(db, case.id)
    assert newest is not None
    routine, settings = {**newest.routine, "own": [own.entries]}, dict(newest.settings)
    routines.push(db, case.id, routine, settings, newest.note, owner.id, now - timedelta(hours=HOURS_AGO))

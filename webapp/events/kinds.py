"""Kinds of events and the shape of their bodies.

An event is never edited: an `entry_corrected` replaces or withdraws an earlier one.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any

VERSION = 1
FIRST_DAY, LAST_DAY = date(2000, 1, 1), date(2199, 12, 31)
"""An event outside these days is refused: the clock was wrong, or the date was mistyped."""
KINDS = (
    "session_finished",
    "morning_reported",
    "away_noted",
    "exposure_noted",
    "habit_noted",
    "letter_written",
    "letter_answered",
    "letter_seen",
    "letter_read",
    "routine_received",
    "note_read",
    "warning_raised",
    "screening_answered",
    "screening_cleared",
    "activities_named",
    "activity_rated",
    "intake_told",
    "intake_confirmed",
    "intake_corrected",
    "entry_corrected",
    "hold_released",
    "habit_chosen",
    "course_set",
    "return_opened",
    "return_ended",
)
PRACTICE_KINDS = frozenset(
    {
        "hold_released",
        "screening_cleared",
        "intake_confirmed",
        "intake_corrected",
        "letter_answered",
        "letter_seen",
        "habit_chosen",
        "activities_named",
        "course_set",
        "return_opened",
        "return_ended",
    }
)
"""Kinds that only the practice side may put on record."""

ARMS = ("right", "left")
ENDINGS = ("completed", "stopped", "sharp")
WHYS = ("", "time", "discomfort", "tired", "interrupted", "other")
EASINGS = ("form", "range", "load", "reps", "leave")
"""The levers that a client may ease within a session, in the order of the practice."""
WAYS = ("short", "before_sport", "both", "own_pace")
"""How a session may differ from the plain one."""
RANGES = (1, 0.75, 0.5)
"""Shares of the full range at which a hold may be released."""
SEEN_BY = ("doctor", "physiotherapist", "other")
"""Who may have seen an arm before its hold is released."""
SHARP_PLACES = ("outer_elbow", "inner_elbow", "forearm", "wrist", "hand", "elsewhere")
UNNAMED_SIGN = "unnamed"
"""Stands for the warning sign where the client answered the question after a stop with 'yes' or 'not sure'."""
UNNAMED_EMERGENCY = "unnamed_emergency"
"""Stands for the emergency sign where the exercises were stopped before a sign was ticked."""
SHARP_FEELS = ("stab", "catch", "electric", "burning", "gave_way", "other")
PLACES = ("outer_elbow", "inner_elbow", "forearm_back", "forearm_front", "wrist_back", "wrist_front")
"""Where an arm may hurt, as the client tells it."""
OTHER_CARE = ("doctor", "physiotherapist", "injection", "medicine", "brace")
SEXES = ("female", "male", "unsaid")
INTAKE_SAID = ("area", "arms", "mass_kg", "height_m", "sex")
"""The fields of an intake whose corrections stand in the log with what they were and are."""
INTAKE_PRIVATE = ("name", "note")
"""These are the practice's own words, and phones read the log: it says only that they were changed."""
MOST_ACTIVITIES = 3
"""So many activities a client names, each rated 0 (cannot) to 10 (as before): the patient-specific functional scale."""
MOST_SIGNS = 100
"""So many signs may stand in one entry of the screening."""
ASK_FIRST = "ask_first"
LEVELS = ("emergency", "same_day", "soon", ASK_FIRST)
"""The levels of warning signs, the most urgent first; the screening before the first session asks them in this order."""
EXPOSURES = ("sport", "lifting", "desk")
AMOUNTS = FEWER, ASKED, MORE = ("fewer", "asked", "more")
"""How much an outing of the way back was beside what its step asks, in the client's own account; without a word as asked."""
AWAYS = ("ill", "travelling", "sore", "no_time", "without_phone", "other")
"""What days without the app were, in the client's own account."""
COURSES = ("training", "maintenance", "rest", "ended")
"""What a client's course is set to; without a word of the practice it is training. A rest ends by itself on its day."""
FEWEST_DAYS_A_WEEK, MOST_DAYS_A_WEEK = 2, 5
HAPPENED = ("injury", "injection", "operation", "medicine", "fever")
"""What may have happened meanwhile and bears on the arm; asked after a long absence."""


@dataclass(frozen=True)
class Event:
    """One thing that happened.

    Attributes:
        id: A UUID in lower case, made on the device that recorded the event.
        kind: One of `KINDS`, or one that a newer phone knows.
        v: Version of the body's shape.
        on: The local day, which starts at 03:00.
        at: The instant, UTC, as ISO text; for people, never for order.
        zone: IANA name of the time zone.
        seq: The device's own counter, from 1.
        body: The fields of the kind; unknown fields are kept.
    """

    id: str
    kind: str
    v: int
    on: date
    at: str
    zone: str
    seq: int
    body: dict[str, Any]


class EventError(Exception):
    """An event cannot be put on record.

    Attributes:
        code: A stable word for the fault.
        field: The path of the field, with dots.
        value: The value of the field.
        rule: What must hold.
    """

    def __init__(self, code: str, field: str, value: object, rule: str) -> None:
        super().__init__(f"{field} = {value!r}: {rule}")
        self.code, self.field, self.value, self.rule = code, field, value, rule

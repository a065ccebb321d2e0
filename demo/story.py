"""What a story of the demo is: one client's last weeks, a letter for each day. Days count back from today."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

NOT_RATED = -1
"""Stands for the rating of a session that the client did not rate."""

# A story has one letter for each day, the oldest first. For each letter: the worst rating of the day's sessions, or None
# without a session; and the next morning's rating minus the usual one, or None without a report.
#   g settled   h settled, a better morning   i settled, a far better morning   t tender   a aching   p half of it done   q no report the next morning
#   f flared   F, v flared badly   r a day of rest, with a report   R a day of rest, still sore   . nothing at all
#   w tender, nothing eased   l a calm session, a tender morning   c aching and no word   n not rated   o nothing felt at all
#   ! sharp pain in the session, in the first arm
LETTERS: Mapping[str, tuple[int | None, int | None]] = {
    "g": (2, 0),
    "h": (1, -1),
    "i": (1, -2),
    "t": (3, 1),
    "a": (4, 0),
    "p": (2, 0),
    "q": (2, None),
    "f": (6, 1),
    "F": (6, 3),
    "v": (7, 4),
    "R": (None, 3),
    "w": (3, 1),
    "l": (1, 1),
    "c": (4, 0),
    "n": (NOT_RATED, 0),
    "o": (0, 0),
    "r": (None, 0),
    ".": (None, None),
    "!": (3, None),
}

# By letter, what else the client said about the last session of the day; the sets that were done follow from it.
DETAILS: Mapping[str, Mapping[str, Any]] = {
    "t": {
        "eased": [{"step": 9, "what": "range", "movement": "palm_down"}],
        "note": "Pulled a little palm down; better with less range.",
    },
    "a": {"note": "Ached from the second movement on, gone by the evening."},
    "p": {"ended": "stopped", "why": "time"},
    "q": {"ways": ["short"]},
    "f": {
        "eased": [
            {"step": 9, "what": "range", "movement": "palm_down"},
            {"step": 15, "what": "leave", "movement": "little_finger_up"},
        ],
        "note": "Long day at work before it.",
    },
    "!": {"ended": "sharp", "sharp_told": {"where": "outer_elbow", "like": "stab", "sign": False}},
}


@dataclass(frozen=True)
class Way:
    """A way back: the ladder, the number of the day on which it was opened, why, and the worst of each outing by the day's number."""

    ladder: str
    opened: int
    reason: str
    outings: Mapping[int, int]


@dataclass(frozen=True)
class Story:
    """One client of the demo practice.

    Attributes:
        note: What the practitioner wrote at the first visit; only the case page shows it.
        weights: Value and unit of each weight at home, with the bare hand (0).
        days: A letter of LETTERS for each day; the last letter is for yesterday.
        ticked: The signs of the safety questions that are true, by id.
        letters: (days ago, what the client wrote, what the practitioner answered on the next day or ""), the oldest first.
        on_phone: Whether a phone has joined. If not, the invitation is still unused.
        sport: The numbers of the days with sport; the first day is 1.
        released: The numbers of the days on which the practitioner lets the arms start again.
        versions: The note to each later version of the routine, by the number of the day on which it comes.
        habit: The habit that the practitioner chose on the first day, by its id; "" for none.
        away: (days, what they were) of a stretch without a word, by the number of the day on which the client told of it.
        activities: How well the client can do each of their own activities, 0 to 10, by the number of the day.
        happened: What the client told of with the days away.
        start_rung: The rung on which each arm starts, or 0 for the ladder's own.
        tuning: What the practitioner changed in the starter routine.
        unreceived: So many days ago another version was pushed that no phone has received; 0 for none.
        seen: (days ahead, note): the practitioner marked the client as seen until then.
        course: (what the practitioner has set, days a week or 0, days ago, the reason that the client reads).
        archived: The reason for which the case was put into the archive, by the number of the day on which that was done.
        way: The client's way back to sport or work, or None.
    """

    name: str
    public_id: str
    area: str
    arms: tuple[str, ...]
    body: Mapping[str, Any]
    weights: tuple[tuple[float, str], ...]
    usual: int
    note: str
    days: str = ""
    letters: tuple[tuple[int, str, str], ...] = ()
    on_phone: bool = True
    ticked: tuple[str, ...] = ()
    sport: tuple[int, ...] = ()
    released: tuple[int, ...] = ()
    versions: Mapping[int, str] = field(default_factory=dict)
    habit: str = ""
    away: Mapping[int, tuple[int, str]] = field(default_factory=dict)
    activities: Mapping[str, Mapping[int, int]] = field(default_factory=dict)
    happened: tuple[str, ...] = ()
    start_rung: int = 0
    tuning: Mapping[str, Any] = field(default_factory=dict)
    unreceived: int = 0
    seen: tuple[int, str] | None = None
    course: tuple[str, int, int, str] | None = None
    archived: Mapping[int, str] = field(default_factory=dict)
    way: Way | None = None

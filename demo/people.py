"""The invented people of the demo practice, and how their last weeks went. Days count back from today; nobody here is real."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

PRACTITIONER = "Orla Venn"
EMAIL = "orla@venn.example"
PASSWORD = "four slow bells"  # noqa: S105 - printed at every start

# What the practitioner writes to a client with the first routine. A story's own note is the practitioner's alone.
WORD_ALONG = "Send me your mornings, the calm ones too. If you are unsure of a movement, leave it out and ask me."

# One letter a day, the oldest first: how the client's day went. By letter: the worst of its sessions, or None without
# one; and how far the next morning was from the usual one, or None without a report.
#   g settled   h settled, a better morning   t tender   a aching   p half of it done   q no report the next morning
#   f flared   r a day of rest, with a report   . nothing at all   ! sharp pain in the session, in the first arm
LETTERS: Mapping[str, tuple[int | None, int | None]] = {
    "g": (2, 0),
    "h": (1, -1),
    "t": (3, 1),
    "a": (4, 0),
    "p": (2, 0),
    "q": (2, None),
    "f": (6, 1),
    "r": (None, 0),
    ".": (None, None),
    "!": (3, None),
}

# What else was told of the last session of such a day; what was done follows from it.
TOLD: Mapping[str, Mapping[str, Any]] = {
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
class Story:
    """One client of the demo practice.

    Attributes:
        note: what the practitioner wrote down at the first visit; it stays on the case page.
        weights: value and unit of each weight at home, the bare hand among them.
        days: one of LETTERS for each day; the last one is yesterday.
        on_phone: whether a phone has joined; without one the invitation is still unused.
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
    on_phone: bool = True


STORIES = (
    Story(
        "Ansgar Tolle",
        "ansgar-tolle",
        "outer_elbow",
        ("right",),
        {"mass_kg": 82.0, "height_m": 1.81, "sex": "male"},
        ((0, "lb"), (1, "lb"), (2, "lb"), (3, "lb")),
        2,
        "Files and dresses bells all day; the right arm holds the file. Changing hands for the first rough pass.",
        "ggggggggtgpggghhhahhhfrgghh",
    ),
    Story(
        "Mirela Quist",
        "mirela-quist",
        "outer_elbow",
        ("right", "left"),
        {"mass_kg": 58.5, "height_m": 1.66, "sex": "female"},
        ((0, "kg"), (0.5, "kg"), (1, "kg")),
        3,
        "Bookbinder. Sews with the right, holds the press with the left; both complain after a long day at the press.",
        "gggtggggttgg!",
    ),
    Story(
        "Teodor Brand",
        "teodor-brand",
        "wrist",
        ("right",),
        {"mass_kg": 90.0, "height_m": 1.88, "sex": None},
        ((0, "lb"), (2, "lb")),
        2,
        "Deck hand on the river ferry; hauls rope in all weathers. Phone is often out of reach, asked him to say so.",
        "gggggqggg.........",
    ),
    Story(
        "Isaura Linde",
        "isaura-linde",
        "inner_elbow",
        ("left",),
        {"mass_kg": 64.0, "height_m": 1.70, "sex": "female"},
        ((0, "kg"), (0.5, "kg")),
        1,
        "Cellist, the left hand fingers. Rehearses four hours a day, concerts at the end of the month.",
        on_phone=False,
    ),
)

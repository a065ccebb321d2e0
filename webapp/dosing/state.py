"""Where one arm stands: everything the next dose depends on, and nothing more."""

from typing import NamedTuple

MODES = ("training", "resting", "held")
MOST_EASE = 2
MOST_PACE = 2
MOST_GAP_DAYS = 28


class State(NamedTuple):
    """One arm at the start of a day; a named tuple, since an almanac makes and looks up tens of thousands.

    Attributes:
        rung: The step of the ladder, 1 at the bottom.
        ease: 0 none, 1 three-quarter range, 2 half range.
        settled_streak: Settled days in a row since the last change, as far as they count.
        tender_days: Tender days in a row.
        gap_days: Days missed in a row, up to 28.
        first_week_day: 1 to 7 in the first week, 0 once it is over.
        pace: Clean climbs in a row: 0, 1, or 2 for two and more.
        mode: One of `MODES`.
    """

    rung: int
    ease: int = 0
    settled_streak: int = 0
    tender_days: int = 0
    gap_days: int = 0
    first_week_day: int = 0
    pace: int = 0
    mode: str = "training"

"""What days without a session do to the rows of an almanac, as columns to look up."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.dosing.closing import Closing, close_gap
from webapp.dosing.plan import Plan
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS, State

STREAK_DAYS, WEEK_DAYS, SLOW_DAYS = 3, 7, 8
GAP_COLUMNS = {"streak": STREAK_DAYS, "week": WEEK_DAYS, "slow": SLOW_DAYS, "start": MOST_GAP_DAYS}
"""The columns of a gap, each with a day of gap that it stands for; half way down is so many times `down`."""
COLUMN_OF_DAY = (
    *[""] * STREAK_DAYS,
    *["streak"] * (WEEK_DAYS - STREAK_DAYS),
    "week",
    *["slow"] * (HALF_WAY_GAP_DAYS - SLOW_DAYS),
    "half",
    *["slow"] * (MOST_GAP_DAYS - HALF_WAY_GAP_DAYS - 1),
    "start",
)
"""By days of gap, this one included: the column that applies, or nothing."""


@dataclass(frozen=True)
class GapTable:
    """What a day of gap does to the row that the day without it leads to.

    Attributes:
        columns: The row that follows, for each row: by the names of `GAP_COLUMNS`, and `down`, one rung lower.
        half_way: By the rung on which the gap began, from 1: the highest rung left after two weeks.
    """

    columns: Mapping[str, tuple[int, ...]]
    half_way: tuple[int, ...]


GAP_REASONS = {
    "resume": "gap-resume",
    "streak": "gap-streak",
    "one": "gap-one-down",
    "two": "gap-two-down",
    "half": "gap-half",
    "start": "gap-start",
}
"""The ids of the gap's rules, by what they did: nothing, counts begun again, rungs down, half way, the start."""


def gap_reason(column: str, rungs_down: int) -> tuple[str, ...]:
    """Return the reason that a column of a gap gives, by the rungs that it went down."""
    if rungs_down <= 0:
        return (GAP_REASONS["streak"],)
    return (GAP_REASONS["one" if rungs_down == 1 else "two"] if column == "week" else GAP_REASONS[column],)


def half_way(plan: Plan) -> tuple[int, ...]:
    """Return, by the rung on which a gap began, the highest rung left after two weeks."""
    rungs = range(1, plan.ladder.top + 1)
    return tuple(close_gap(plan, Closing(State(rung), ()), HALF_WAY_GAP_DAYS, rung).state.rung for rung in rungs)

"""Columns of an almanac for days without a session: the row that each row leads to."""

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.dosing.closing import Closing, close_gap
from webapp.dosing.plan import Plan
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS, State

STREAK_DAYS, WEEK_DAYS, SLOW_DAYS = 3, 7, 8
GAP_COLUMNS = {"streak": STREAK_DAYS, "week": WEEK_DAYS, "slow": SLOW_DAYS, "start": MOST_GAP_DAYS}
"""The columns, each with a day of gap on which it applies. Going half way down applies the column `down` several times."""
COLUMN_OF_DAY = (
    *[""] * STREAK_DAYS,
    *["streak"] * (WEEK_DAYS - STREAK_DAYS),
    "week",
    *["slow"] * (HALF_WAY_GAP_DAYS - SLOW_DAYS),
    "half",
    *["slow"] * (MOST_GAP_DAYS - HALF_WAY_GAP_DAYS - 1),
    "start",
)
"""The column that applies, by days of gap with this day included; "" where none does."""


@dataclass(frozen=True)
class GapTable:
    """What a day of gap does, applied to the row that the day's own rules lead to.

    Attributes:
        columns: For each column of `GAP_COLUMNS`, and for `down` (one rung lower), the row that each row leads to.
        half_way: The highest rung that is left after two weeks, by the rung on which the gap began, from 1.
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
"""The id of each rule of the gap, by its effect: nothing, counts back to 0, one or two rungs down, half way, the start."""


def gap_reason(column: str, rungs_down: int) -> tuple[str, ...]:
    """Return the reason for a column's effect, by the rungs that the arm went down."""
    if rungs_down <= 0:
        return (GAP_REASONS["streak"],)
    return (GAP_REASONS["one" if rungs_down == 1 else "two"] if column == "week" else GAP_REASONS[column],)


def half_way(plan: Plan) -> tuple[int, ...]:
    """Return the highest rung that is left after two weeks, by the rung on which the gap began, from 1."""
    rungs = range(1, plan.ladder.top + 1)
    return tuple(close_gap(plan, Closing(State(rung), ()), HALF_WAY_GAP_DAYS, rung).state.rung for rung in rungs)

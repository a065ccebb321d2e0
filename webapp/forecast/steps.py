"""One day's step of the almanac for many clients at once: `Almanac.close` on arrays.

The position of a client is a row of the table, the days of gap, and the rung on which the gap began.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from webapp.dosing.almanac import Almanac
from webapp.dosing.gap_table import COLUMN_OF_DAY
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS

Whole = NDArray[np.int64]


class Positions(NamedTuple):
    """The positions of all clients, an entry for each; the fields are those of `almanac.Position`."""

    row: Whole
    gap_days: Whole
    gap_rung: Whole


class Steps:
    """The almanac's look-ups as arrays."""

    def __init__(self, almanac: Almanac) -> None:
        gap, rows = almanac.gap, range(len(almanac.states))
        names = [name for name in gap.columns if name != "down"]
        columns = {name: number for number, name in enumerate(("", *names))}
        self._next: Whole = np.array(almanac.next)
        self._gone: Whole = np.array([rows, *(gap.columns[name] for name in names)])
        self._column: Whole = np.array([columns["slow" if name == "half" else name] for name in COLUMN_OF_DAY])
        self._down: Whole = np.array(gap.columns["down"])
        self._half_way: Whole = np.array((0, *gap.half_way))
        self._rung: Whole = np.array([state.rung for state in almanac.states])
        self._is_held = np.array([state.mode == "held" for state in almanac.states])
        self._is_idle = np.array([response in IDLE for response in RESPONSES])

    def close(self, at: Positions, response: Whole) -> Positions:
        """Close a day of every client.

        Args:
            at: The positions at the start of the day.
            response: The response of each client, as an index into `RESPONSES`.
        """
        row = self._next[at.row, response]
        is_gap = self._is_idle[response] & ~self._is_held[row]
        days = np.minimum(at.gap_days + 1, MOST_GAP_DAYS)
        began = np.where(at.gap_rung > 0, at.gap_rung, self._rung[at.row])
        gone = self._half_down(self._gone[self._column[days], row], row, days, began)
        is_counting = is_gap & (days < HALF_WAY_GAP_DAYS)
        return Positions(np.where(is_gap, gone, row), np.where(is_gap, days, 0), np.where(is_counting, began, 0))

    def _half_down(self, gone: Whole, row: Whole, days: Whole, began: Whole) -> Whole:
        """Move the clients who have been away for two weeks half way down, one rung at a time."""
        rungs = np.where(days == HALF_WAY_GAP_DAYS, self._rung[row] - self._half_way[began], 0)
        for number in range(int(rungs.max(initial=0))):
            gone = np.where(rungs > number, self._down[gone], gone)
        return gone

"""For each state its row in an almanac, packed into bytes that are searched without unpacking.

An almanac is slow to build, and as a mapping it takes half a megabyte. So these bytes are stored beside its bundle.
"""

from bisect import bisect_left
from collections.abc import Mapping
from struct import Struct

from webapp.dosing.closing import without_gap
from webapp.dosing.state import MODES, State

# One record: rung, ease, settled_streak, tender_days, first_week_day, first_week_stage, pace, rest_days, mode, is_unsettled;
# then the row.
_STATE, _ROW = Struct(">HBhHBHBBB?"), Struct(">H")
_WIDTH = _STATE.size + _ROW.size


def pack(rows: Mapping[State, int]) -> bytes:
    """Pack the rows of an almanac into bytes for `row_of`; the keys are states without a gap."""
    return b"".join(sorted(_key(state) + _ROW.pack(row) for state, row in rows.items()))


def row_of(packed: bytes, state: State) -> int | None:
    """Return the row of a state, whatever its gap, or None if the state is not in the almanac."""
    key, count = _key(without_gap(state)), len(packed) // _WIDTH
    index = bisect_left(range(count), key, key=lambda number: packed[number * _WIDTH : number * _WIDTH + _STATE.size])
    start = index * _WIDTH
    if packed[start : start + _STATE.size] != key:
        return None
    return int(_ROW.unpack_from(packed, start + _STATE.size)[0])


def _key(state: State) -> bytes:
    rung, ease, streak, tender, _, _, day, stage, pace, rest, mode, is_unsettled = state
    return _STATE.pack(rung, ease, streak, tender, day, stage, pace, rest, MODES.index(mode), is_unsettled)

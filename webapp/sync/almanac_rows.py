"""Which row of an almanac each state has, as bytes that are searched and never unpacked.

The almanac takes long to build, and as a mapping it takes half a megabyte; these bytes are stored beside its bundle.
"""

from bisect import bisect_left
from collections.abc import Mapping
from struct import Struct

from webapp.dosing.closing import without_gap
from webapp.dosing.state import MODES, State

# rung, ease, settled_streak, tender_days, first_week_day, first_week_stage, pace, rest_days, mode, is_unsettled; then the row.
_STATE, _ROW = Struct(">HBhHBHBBB?"), Struct(">H")
_WIDTH = _STATE.size + _ROW.size


def pack(rows: Mapping[State, int]) -> bytes:
    """Return the rows of an almanac, by states without a gap, as bytes for `row_of`."""
    return b"".join(sorted(_key(state) + _ROW.pack(row) for state, row in rows.items()))


def row_of(packed: bytes, state: State) -> int | None:
    """Return the row of a state, whatever its gap, or None where the almanac does not hold it."""
    key, count = _key(without_gap(state)), len(packed) // _WIDTH
    place = bisect_left(range(count), key, key=lambda number: packed[number * _WIDTH : number * _WIDTH + _STATE.size])
    start = place * _WIDTH
    if packed[start : start + _STATE.size] != key:
        return None
    return int(_ROW.unpack_from(packed, start + _STATE.size)[0])


def _key(state: State) -> bytes:
    rung, ease, streak, tender, _, _, day, stage, pace, rest, mode, is_unsettled = state
    return _STATE.pack(rung, ease, streak, tender, day, stage, pace, rest, MODES.index(mode), is_unsettled)

"""The table of the ways back to sport or work, and their ladders in words, as JSON of a bundle."""

from collections.abc import Mapping, Sequence

from msgspec import Struct


class WayStep(Struct, kw_only=True):
    """One step of a way back: at most so many days of seven, so many minutes each, so many strokes (0: not counted), and what it adds.

    With fewer than `least_minutes` an outing does not count towards the next step.
    """

    days_a_week: int
    minutes: int
    least_minutes: int
    most_strokes: int
    adds: str


class WayLadder(Struct, kw_only=True):
    """The steps of one way back, in words. `moves`: by move, then by step, the step that follows."""

    name: str
    text: str
    caution: str
    strokes: str
    steps: Sequence[WayStep]
    moves: Sequence[Sequence[int]]


class WayAway(Struct, kw_only=True):
    """What so many days without sport do: by row the row that follows, the move, the rule."""

    days: int
    next: Sequence[int]
    move: int
    why: str


class Way(Struct, kw_only=True):
    """The table of the ways back: see `webapp.dosing.returning.table.GoTable`. A column of `next` holds differences, as in the almanac.

    `moves` says by rule what becomes of the step; `passed` and `free` have "1" where it is so. `feels` names how a day felt by its class, the mildest first in `order`; `raises` are the rules after which no step goes up for `apart` days.
    """

    columns: Mapping[str, int]
    next: Sequence[Sequence[int]]
    moves: Sequence[int]
    why: Sequence[Sequence[int]]
    rules: Sequence[str]
    away: Sequence[WayAway]
    passed: Mapping[str, str]
    free: Mapping[str, str]
    mode: Sequence[str]
    settled: Sequence[int]
    days: Sequence[int]
    feels: Mapping[str, str]
    order: Sequence[str]
    flares: Sequence[str]
    raises: Sequence[str]
    apart: int
    flare_days: int
    step_days: int
    says: Mapping[str, str]
    ladders: Mapping[str, WayLadder]

"""A bundle as JSON: all that a phone needs to live by one routine version, in one language.

Some tables are written so that they stay small. A column of rows holds, for each row, how far it is from the row before it.
`Almanac.why` points into `whys`, a sheet into `Bundle.steps`, a dose's `short` and `sport` into `Bundle.counts`.
"""

from collections.abc import Mapping, Sequence
from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from webapp.wire.way import Way

Mode = Annotated[str, Meta(extra={"shape": Literal["training", "resting", "held"]})]
StepKind = Annotated[
    str, Meta(extra={"shape": Literal["prepare", "warm_up", "reps", "rest", "hold", "change_arm", "done"]})
]


class RoutineHead(Struct, kw_only=True):
    """Which routine version it is, and the practitioner's note with it."""

    version: int
    title: str
    note: str


class Gap(Struct, kw_only=True):
    """What days without a session do to a row: `by_day` names the column for each day of the gap, "" for none."""

    columns: Mapping[str, Sequence[int]]
    by_day: Sequence[str]
    half_way: Sequence[int]
    reasons: Mapping[str, str]


class Releases(Struct, kw_only=True):
    """Where a held row may come back: `of` points, by row, into `offers`; an offer is (rung, ease, row)."""

    of: Mapping[str, int]
    offers: Sequence[Sequence[tuple[int, int, int]]]


class Almanac(Struct, kw_only=True):
    """The closed table: by response, then by row, the row that follows; by row, what it is and asks."""

    responses: Sequence[str]
    letters: Mapping[str, str]
    idle: Sequence[str]
    next: Sequence[Sequence[int]]
    why: Sequence[int]
    whys: Sequence[Sequence[Sequence[str]]]
    dose: Sequence[int]
    rung: Sequence[int]
    ease: Sequence[int]
    mode: Sequence[Mode]
    streak: Sequence[int]
    rest: Sequence[int]
    gap: Gap
    release: Releases


class DoseSet(Struct, kw_only=True):
    """One set: kilograms, and the share of the full range. `load` is the weight as a person reads it."""

    movement: str
    direction: str
    reps: int
    load_kg: float
    load: str
    range: float


class Hold(Struct, kw_only=True):
    """One stretch, in seconds."""

    movement: str
    seconds: float


class WarmUp(Struct, kw_only=True):
    """One warm-up."""

    movement: str
    reps: int


class Dose(Struct, kw_only=True):
    """What one day asks. `sheet` is None where it asks for no session; then `short` and `sport` are not there."""

    mode: Mode
    sessions: int
    minutes: int
    work_j: float
    sets: Sequence[DoseSet]
    holds: Sequence[Hold]
    warm_ups: Sequence[WarmUp]
    summary: Sequence[str]
    sheet: int | None
    short: int | UnsetType = UNSET
    sport: tuple[int, int] | UnsetType = UNSET


class Step(Struct, kw_only=True):
    """One step of a cue sheet, in seconds, with its words. `up` and `down` are the halves of one rep."""

    kind: StepKind
    movement: str | None
    seconds: float
    reps: int
    up: float
    down: float
    range: float
    load: str
    name: str
    cue: str
    hint: str


class Cues(Struct, kw_only=True):
    """What is said on the way up and on the way down."""

    up: str
    down: str


class OwnPart(Struct, kw_only=True):
    """What a movement of a practice's own has beside: the phone has no page of it otherwise.

    `like` is the shipped movement whose drawing it has; `up` and `down` are the ends of its arc, in degrees, as far as that has
    them. `cautions` are shown beside `leave_out`.
    """

    like: str
    how: Sequence[str]
    purpose: str
    cautions: Sequence[str]
    up: float | UnsetType = UNSET
    down: float | UnsetType = UNSET


class Movement(Struct, kw_only=True):
    """The words of a movement; `own` where it is one of the practice's own."""

    name: str
    mistakes: Sequence[str]
    leave_out: str | None
    cues: Cues
    own: OwnPart | UnsetType = UNSET


class Sign(Struct, kw_only=True):
    """A warning sign: whether it is about the whole body, and whether it holds an arm."""

    id: str
    level: str
    is_whole: bool
    holds: bool
    text: str


class Apart(Struct, kw_only=True):
    """How far apart the sessions of one day are, in hours, and the latest start of one that is not the first, in hours from midnight."""

    hours: float
    latest: float


class Asks(Struct, kw_only=True):
    """When the phone asks for more, in days.

    A morning may be told `late` days later. After `away` days without a word it asks what they were, after `long_away` also
    what happened meanwhile, and after `sore_days` of `sore` responses whether there is more than soreness. All but the first of the client's
    own activities are asked about in `activity_weeks` of the course. Fewer than `week_reports` mornings of a week say nothing about it.
    """

    late: int
    away: int
    long_away: int
    sore_days: int
    activity_weeks: Sequence[int]
    week_reports: int
    sore: Sequence[str]


class Habit(Struct, kw_only=True):
    """A habit in words, with what to take care of and what it rests on."""

    name: str
    text: str
    caution: str
    basis: str


class Bundle(Struct, kw_only=True):
    """The whole of it. `hash` is that of all the rest, 32 hexadecimal digits."""

    hash: str
    format: int
    locale: str
    routine: RoutineHead
    arms: Sequence[str]
    usual: int
    almanac: Almanac
    doses: Sequence[Dose]
    sheets: Sequence[Sequence[int]]
    steps: Sequence[Step]
    counts: Sequence[Sequence[int]]
    timing: Mapping[str, tuple[float, float, float]]
    cube: str
    ranges: Sequence[float]
    rep_work: Mapping[str, Sequence[tuple[float, float, float]]]
    why: Mapping[str, str]
    movements: Mapping[str, Movement]
    responses: Mapping[str, str]
    change_arm: Mapping[str, Step]
    ends_day: Sequence[str]
    apart: Apart
    asks: Asks
    habits: Mapping[str, Habit]
    way: Way
    warnings: Sequence[Sign]
    to_do: Mapping[str, str]
    to_know: Mapping[str, str]
    caution: str

"""What a client tells of a day beside its session: the morning, days away, other loads, the habit."""

from typing import Literal

from msgspec import UNSET, Struct, UnsetType


class ArmMorning(Struct, kw_only=True):
    """The morning soreness of one arm, 0 to 10. `besides`: whether there is more than soreness, asked when it lasts."""

    pain: int
    sharp: bool | UnsetType = UNSET
    besides: bool | UnsetType = UNSET


class MorningBody(Struct, kw_only=True):
    """A morning report, about the day before. `late`: it was entered on a later day than its own."""

    arms: dict[str, ArmMorning]
    late: bool | UnsetType = UNSET


class AwayBody(Struct, kw_only=True):
    """What days without the app were, both days included, and what happened meanwhile."""

    first: str
    last: str
    what: Literal["ill", "travelling", "sore", "no_time", "without_phone", "other"]
    happened: list[str] | UnsetType = UNSET


class ArmSport(Struct, kw_only=True):
    """How one arm felt in sport: its worst, 0 to 10, or None before it is told."""

    worst: int | None
    sharp: bool | UnsetType = UNSET


class ExposureBody(Struct, kw_only=True):
    """Sport, lifting or a long day at a desk: how long, the client's own word for it, when it begins (HH:MM), whether it is yet to come.

    On the way back also its step, by arm how it felt, `up` (it was the first sport of a higher step), how much it was beside what the step
    asks, and the strokes that were counted.
    """

    what: Literal["sport", "lifting", "desk"]
    minutes: int | UnsetType | None = UNSET
    name: str | UnsetType = UNSET
    begins: str | UnsetType = UNSET
    planned: bool | UnsetType = UNSET
    step: int | UnsetType = UNSET
    up: bool | UnsetType = UNSET
    arms: dict[str, ArmSport] | UnsetType = UNSET
    amount: Literal["fewer", "asked", "more"] | UnsetType = UNSET
    strokes: int | UnsetType = UNSET


class HabitBody(Struct, kw_only=True):
    """Whether a habit was kept, and whether it suits; without `suits` it does. `chosen`: the entry that chose it."""

    habit: str
    kept: bool
    suits: bool | UnsetType = UNSET
    chosen: str | UnsetType = UNSET


class ChosenBody(Struct, kw_only=True):
    """The one habit that the practice chose, "" for none, and who chose it."""

    habit: str
    by: str

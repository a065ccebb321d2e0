"""What a session did and what the day asked of it, as JSON: the body of its entry.

These are shapes that the fold and the pages about the past read; what an entry must hold is checked by `events/codec.py`.
"""

from typing import Literal

from msgspec import UNSET, Struct, UnsetType


class AskedSet(Struct, kw_only=True):
    """One set as the day asked it of each session."""

    movement: str
    reps: int
    load_kg: float
    range: float


class PlayedSet(AskedSet, kw_only=True):
    """One set as it was played: `share` is the part of the day's asked work in its movement, per mille."""

    share: int


class ArmDose(Struct, kw_only=True):
    """What the day asked of one arm: how many sessions, and the sets of each; for pages about the past, never for a rule."""

    sessions: int
    sets: list[AskedSet]


class ArmPlayed(Struct, kw_only=True):
    """What a session did with one arm: `worst` is its rating, 0 to 10, or None where it was not rated."""

    sets: list[PlayedSet]
    worst: int | UnsetType | None = UNSET
    sharp: bool | UnsetType = UNSET
    dose: ArmDose | UnsetType = UNSET


class Eased(Struct, kw_only=True):
    """One easing in the middle of a session, at a step of its cue sheet, from 0."""

    step: int
    what: Literal["form", "range", "load", "reps", "leave"]
    movement: str | UnsetType = UNSET


class SharpAnswers(Struct, kw_only=True):
    """The three answers after sharp pain; `sign`: whether a sign of an emergency was there."""

    where: str
    like: str
    sign: bool


class SessionBody(Struct, kw_only=True):
    """A session that is over. Steps are counted on its cue sheet, times are seconds; `gaps` are absences, in ms of wall time."""

    routine: int
    arms: dict[str, ArmPlayed]
    asked_steps: int
    done_steps: int
    active_seconds: int
    ended: Literal["completed", "stopped", "sharp"]
    why: str | UnsetType = UNSET
    note: str | UnsetType = UNSET
    gaps: list[tuple[int, int]] | UnsetType = UNSET
    ways: list[str] | UnsetType = UNSET
    eased: list[Eased] | UnsetType = UNSET
    sharp_told: SharpAnswers | UnsetType = UNSET

"""The body of the entry by which the practice ends a hold, as JSON."""

from msgspec import UNSET, Struct, UnsetType

from webapp.wire.arriving import SeenBy


class ArmReleased(Struct, kw_only=True):
    """The end of a hold: at most this rung and range. `covers` names the sharp entries that the practitioner had read."""

    rung: int
    range: float
    covers: list[str]
    reason: str
    by: str
    seen_by: SeenBy | UnsetType = UNSET


class ReleaseBody(Struct, kw_only=True):
    """A release, by arm."""

    arms: dict[str, ArmReleased]

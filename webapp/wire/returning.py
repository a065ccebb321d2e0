"""The bodies of the entries by which the practice opens and ends the way back to a sport or to work."""

from msgspec import UNSET, Struct, UnsetType

from webapp.wire.arriving import SeenBy


class WayBody(Struct, kw_only=True):
    """A way back is open: its ladder, the step it begins with, who has seen the arm, why, by whom.

    `gate` are the points that were met, `ticked` those of them that the practitioner answered for.
    """

    ladder: str
    step: int
    gate: list[str]
    ticked: list[str] | UnsetType = UNSET
    seen_by: SeenBy | UnsetType = UNSET
    reason: str
    by: str


class WayEndedBody(Struct, kw_only=True):
    """A way back is ended: the reason that the client reads, and who ended it."""

    reason: str
    by: str

"""Bodies of the entries about arriving: what the client answers before the first session, and what the practice says to it."""

from typing import Literal

from msgspec import UNSET, Struct, UnsetType


class SeenBy(Struct, kw_only=True):
    """Who has seen an arm, and when."""

    role: Literal["doctor", "physiotherapist", "other"]
    on: str


class ScreeningBody(Struct, kw_only=True):
    """The screening before the first session: the signs that are true, by id, and how far the list was gone through.

    `asked_list` is the hash of the list that was shown. Without a sign, `reached` is the last level.
    """

    asked_list: str
    reached: Literal["emergency", "same_day", "soon", "ask_first"]
    signs: list[str]


class ClearedBody(Struct, kw_only=True):
    """The practitioner has agreed to the start in spite of these signs of the screening."""

    signs: list[str]
    reason: str
    by: str
    seen_by: SeenBy | UnsetType = UNSET

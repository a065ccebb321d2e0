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


class Activity(Struct, kw_only=True):
    """Something that the arm keeps the client from, in the client's words, rated 0 (cannot) to 10 (as before)."""

    name: str
    rating: int


class IntakeBody(Struct, kw_only=True):
    """What a client tells of the arm: `usual` is the pain of an ordinary morning, 0 to 10; body size may be left out."""

    arms: list[str]
    places: list[str]
    usual: int
    activities: list[Activity]
    weights_kg: list[float]
    sport_days: int
    other_care: list[str]
    mass_kg: float | UnsetType = UNSET
    height_m: float | UnsetType = UNSET


class ConfirmedBody(Struct, kw_only=True):
    """The practitioner has read, corrected and confirmed an intake."""

    by: str


class IntakeChange(Struct, kw_only=True):
    """One field of the intake that was corrected; of the name and the note, which are private, only that they were."""

    field: Literal["area", "arms", "mass_kg", "height_m", "sex", "name", "note"]
    was: str | float | list[str] | UnsetType = UNSET
    now: str | float | list[str] | UnsetType = UNSET


class IntakeCorrectedBody(Struct, kw_only=True):
    """The practitioner has corrected an intake: what, why, by whom. It changes no dose."""

    changes: list[IntakeChange]
    reason: str
    by: str

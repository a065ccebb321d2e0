"""What a phone asks for, and what it is told: joining, and the sync.

A request's fields have defaults only where an older phone may leave them out.
"""

from collections.abc import Sequence
from typing import Annotated, Any, Literal

from msgspec import UNSET, Meta, Raw, Struct, UnsetType

from webapp.wire.bundle import Bundle
from webapp.wire.entries import AnyEntry

FORMAT = 1
MOST_EVENTS = 100
"""So many entries go in one request."""
Status = Literal["stored", "duplicate", "conflict", "rejected"]
Unread = Annotated[Any, Meta(extra={"shape": str})]
"""A text of which the server reads nothing, so that no fault in it keeps entries out."""


class LastChange(Struct, kw_only=True):
    """The last change of what is asked of an arm: the day from which on, and the ids of the rules that changed it."""

    on: str
    why: Sequence[str]


class Starts(Struct, kw_only=True):
    """Where an arm may stand at the start of a day, for each response to the day before.

    A state is (row of the almanac, days of gap, rung on which the gap began or 0).
    """

    states: Sequence[tuple[int, int, int]]
    why: Sequence[Sequence[str]]
    changed: Sequence[LastChange | None]


class WayStart(Struct, kw_only=True):
    """Where the way back stands at the start of the day `on`, and what the practitioner wrote.

    `row` is of the table of goes; `lately` are days with sport as bits, `away` days without, `flare` days for which one still counts.
    `is_clear`: the exercises raised nothing within 72 hours.
    """

    ladder: str
    opened: str
    reason: str
    by: str
    on: str
    step: int
    row: int
    lately: int
    away: int
    flare: int
    is_clear: bool


class Anchor(Starts, kw_only=True):
    """One arm at the start of the day `on`: see `webapp.sync.folding.anchors.Anchor`. `way`: the way back, the same in each arm's anchor."""

    on: str
    mornings: Sequence[int | None]
    asked: bool
    cube: str | UnsetType = UNSET
    if_troubled: Starts | UnsetType = UNSET
    way: WayStart | UnsetType = UNSET


class LinkRequest(Struct, kw_only=True):
    """A phone that has opened a link and wants to know whose it is."""

    token: str


class PractitionerShown(Struct, kw_only=True):
    """The practitioner, as the phone shows them; all but the name may be empty.

    `telephone` is as it is dialled; `hours` says when to ring, `letters_read` how soon letters are read, in a few words.
    """

    name: str
    telephone: str
    hours: str
    email: str
    letters_read: str


class LinkOffer(Struct, kw_only=True):
    """Whose invitation a link is, for which arms, whether this phone has joined already, and whether it is a group's link."""

    practitioner: PractitionerShown
    arms: list[str]
    is_joined: bool
    is_group: bool


class JoinRequest(Struct, kw_only=True):
    """A phone that wants to join, by a link's token or by a code.

    `agreed` is the hash of the words that its client agreed to. `key` is what the phone made up for this try: with the link
    of a group, a try that is repeated with the same key takes no second place. `first_name` is asked with such a link only; it
    may be empty.
    """

    token: str = ""
    code: str = ""
    device_name: str = ""
    agreed: str = ""
    key: str = ""
    first_name: str = ""


class ClientId(Struct, kw_only=True):
    """Whose phone it is."""

    id: str


class JoinedAs(Struct, kw_only=True):
    """Who a phone is joined as."""

    client: ClientId
    device: str
    locale: str


class HomeCode(Struct, kw_only=True):
    """A code for another place of the same client, and for how many seconds it is good."""

    code: str
    seconds: int


ClockTime = Annotated[str, Meta(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]\Z")]
"""A local time, as 07:30, with nothing after it."""


class ReminderTimes(Struct, kw_only=True):
    """At what local time each reminder comes; null for none."""

    morning: ClockTime | None = None
    session: ClockTime | None = None
    second: ClockTime | None = None


class FeedRequest(Struct, kw_only=True):
    """A phone keeps its calendar's address up to date: `key` is what it has, empty for none; no time at all ends that address."""

    times: ReminderTimes
    key: Annotated[str, Meta(max_length=64)] = ""


class FeedAddress(Struct, kw_only=True):
    """The secret part of a calendar's address; empty where there is no address any more."""

    key: str


class SyncRequest(Struct, kw_only=True):
    """A sync: what the phone sends and what it has. `sent_at`, `zone` and `device` are for people, and never believed."""

    format: int
    client: str
    on: str
    events: Annotated[list[Raw], Meta(extra={"shape": list[AnyEntry]})] = []
    cursor: int = 0
    epoch: str | None = None
    bundle: str | None = None
    locale: str = ""
    device: Unread = None
    zone: Unread = None
    sent_at: Unread = None


class Result(Struct, kw_only=True):
    """What became of one entry that was sent, with a sentence where it was refused."""

    id: str
    status: Status
    code: str
    message: str
    again: bool


class Told(Struct, kw_only=True):
    """An entry of the log with its number in it."""

    seq: int
    event: Annotated[Raw, Meta(extra={"shape": AnyEntry})]


class ClientShown(Struct, kw_only=True):
    """The client, as the phone shows them."""

    id: str
    name_shown: str


class Start(Struct, kw_only=True):
    """What the first session still waits for, as far as the server knows; `asks_intake`: the client tells the intake."""

    waits_for: Literal["screening", "intake", "practitioner", "nothing"]
    asks_intake: bool


class Reply(Struct, kw_only=True):
    """The answer to a sync. `bundle` is None where the phone has the one in force."""

    format: int
    epoch: str
    results: list[Result]
    cursor: int
    events: list[Told]
    more: bool
    client: ClientShown
    practitioner: PractitionerShown
    start: Start
    bundle: Annotated[Raw | None, Meta(extra={"shape": Bundle | None})]
    bundle_hash: str | None
    anchors: Annotated[Raw, Meta(extra={"shape": dict[str, Anchor]})]
    received_at: str


class Refusal(Struct, kw_only=True):
    """Why a request was refused: a stable code, a sentence, and whether the same may go through later."""

    code: str
    message: str
    again: bool


class Refused(Struct, kw_only=True):
    """A refused request."""

    error: Refusal

"""Joining a phone to a client by a link or a typed code: who may join, and how often they may try.

Knows invitations, phones and tries, but no requests.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from limits import parse_many

from webapp.records import cases, devices, invitations
from webapp.records.database import Database, instant, write
from webapp.records.invitations import CODE_LENGTH, CODE_LETTERS, CODE_SELECTOR_LENGTH, LINK_SELECTOR_LENGTH, Invitation
from webapp.sync.limits.tries import Guard, Tries, network_of
from webapp.sync.phone.practitioner import practitioner_shown
from webapp.wire.sync import PractitionerShown

# The limit on wrong codes from one network. Wrong codes never end a code; a code is safe because it is long enough
# (tests/sync/test_guessing_codes.py counts it out).
WRONG_CODES = parse_many("20 per hour; 60 per day")
LONGEST_TOKEN = 200


class NotAdmittedError(Exception):
    """A phone may not join.

    Attributes:
        code: unknown_link, unknown_code, used, over, joined_to_another or too_many_tries.
        wait: With too_many_tries, the time until a retry can help.
    """

    def __init__(self, code: str, wait: timedelta = timedelta()) -> None:
        super().__init__(code)
        self.code, self.wait = code, wait


@dataclass(frozen=True)
class Joined:
    """A phone that has joined: its client's key, its id, and its token, which is returned only here."""

    client: int
    device: str
    token: str


@dataclass(frozen=True)
class PhoneTold:
    """What a phone that joins says of itself and its client; each may be "".

    Attributes:
        name: The phone's name.
        agreed: The hash of the words that the client agreed to.
        first_name: The client's first name, which only a newcomer of a group may give.
    """

    name: str = ""
    agreed: str = ""
    first_name: str = ""


@dataclass(frozen=True)
class LinkOffer:
    """A link as the phone that opened it sees it: the practitioner, the arms, and whether this phone has joined already."""

    practitioner: PractitionerShown
    arms: list[str]
    is_joined: bool


def read_link(db: Database, token: str, now: datetime, already: Joined | None = None) -> LinkOffer:
    """Return what a link offers, without using it up.

    Args:
        db: The records.
        token: The link's token.
        now: The instant of the call, with a zone.
        already: The phone that sends the request, if it has joined a client.

    Raises:
        NotAdmittedError: This phone cannot join by the link.
    """
    found = _found_by_link(db, token)
    is_joined = _joined_by(found, already, now) is not None
    return LinkOffer(practitioner_shown(db, found.client), cases.arms_of(db, found.client), is_joined)


def join_by_link(db: Database, token: str, phone: PhoneTold, now: datetime, already: Joined | None = None) -> Joined:
    """Join by the token of a link, which cannot be guessed.

    Args:
        db: The records.
        token: The link's token.
        phone: What the phone says of itself.
        now: The instant of the call, with a zone.
        already: The phone that sends the request, if it has joined a client. It stays joined, and the link stays unused.

    Raises:
        NotAdmittedError: The link is unknown, used or over, or the phone has joined another client.
    """
    return _admit(db, _found_by_link(db, token), phone, now, already)


def _found_by_link(db: Database, token: str) -> Invitation:
    found = invitations.find(db, token[:LINK_SELECTOR_LENGTH]) if len(token) < LONGEST_TOKEN else None
    if found is None or not invitations.is_secret_of_link(found, token[LINK_SELECTOR_LENGTH:]):
        raise NotAdmittedError("unknown_link")
    return found


def join_by_code(
    db: Database, tries: Tries, typed: str, phone: PhoneTold, address: str, now: datetime, already: Joined | None = None
) -> Joined:
    """Join by a short code. A code could be guessed, so every wrong code counts against the network that it comes from.

    Args:
        db: The records.
        tries: The failures so far.
        typed: The code as it was typed: in upper or lower case, with or without spaces and dashes.
        phone: What the phone says of itself.
        address: The network address of the phone.
        now: The instant of the call, with a zone.
        already: The phone that sends the request, if it has joined a client. It stays joined, and the code stays unused.

    Raises:
        NotAdmittedError: The code is unknown, used or over, the phone has joined another client, or there were too many
            wrong codes from this network.
    """
    guard = Guard(WRONG_CODES, ("code", network_of(address)))
    wait = tries.wait(guard)
    if wait:
        raise NotAdmittedError("too_many_tries", wait)
    try:
        found = _found_by(db, tidied(typed))
    except NotAdmittedError:
        tries.fail(guard)
        raise
    return _admit(db, found, phone, now, already)


def _found_by(db: Database, code: str) -> Invitation:
    if len(code) != CODE_LENGTH:
        raise NotAdmittedError("unknown_code")
    found = invitations.find(db, code[:CODE_SELECTOR_LENGTH])
    # The secret is checked even if no code has this selector: the time of an answer must not show how a code begins.
    if not invitations.is_secret_of_code(found, code[CODE_SELECTOR_LENGTH:]) or found is None:
        raise NotAdmittedError("unknown_code")
    return found


def tidied(typed: str) -> str:
    """Return the letters of a typed code in capitals; "" if a letter cannot be in any code."""
    letters = "".join(sign for sign in typed.upper() if sign.isalnum())
    return letters if set(letters) <= set(CODE_LETTERS) else ""


def _admit(db: Database, found: Invitation, phone: PhoneTold, now: datetime, already: Joined | None) -> Joined:
    joined = _joined_by(found, already, now)
    if joined is not None:
        return joined
    with write(db):
        if not invitations.use(db, found.id, now):
            raise NotAdmittedError("used")
        device, token = devices.join(db, found.client, phone.name, now, phone.agreed)
    return Joined(found.client, device, token)


def _joined_by(found: Invitation, already: Joined | None, now: datetime) -> Joined | None:
    """Return the phone if it has already joined the client of a valid invitation; None for a phone that may join now.

    Raises:
        NotAdmittedError: The phone has joined another client; or it has not joined, and the invitation is used or over.
    """
    if already is not None:
        # A phone keeps the entries of one client only. To change, it must leave first, so that no entries are mixed or lost.
        if already.client != found.client:
            raise NotAdmittedError("joined_to_another")
        return already
    if found.used_at is not None:
        raise NotAdmittedError("used")
    if found.expires_at <= instant(now):
        raise NotAdmittedError("over")
    return None

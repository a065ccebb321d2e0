"""Joining a phone to a client by a link or a typed code: who may, how often they may try, what they get.

Knows invitations, phones and tries; nothing of requests.
"""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from webapp.records import attempts, devices, invitations, practitioners
from webapp.records.database import Database, instant, write
from webapp.records.invitations import CODE_LENGTH, CODE_LETTERS, CODE_SELECTOR_LENGTH, LINK_SELECTOR_LENGTH, Invitation

MOST_TRIES_OF_A_CODE = 5
MOST_FAILED_HERE = 5
MOST_FAILED_ANYWHERE = 200
WITHIN = timedelta(hours=1)
ANYWHERE = "code anywhere"
LONGEST_TOKEN = 200


class NotAdmittedError(Exception):
    """A phone may not join.

    Attributes:
        code: unknown_link, unknown_code, used, over, joined_to_another or too_many_tries.
        wait: How long until trying again can help, with too_many_tries.
    """

    def __init__(self, code: str, wait: timedelta = timedelta()) -> None:
        super().__init__(code)
        self.code, self.wait = code, wait


@dataclass(frozen=True)
class Joined:
    """A phone that has joined: its client's row, its id, and its token, which is shown this once."""

    client: int
    device: str
    token: str


@dataclass(frozen=True)
class Offer:
    """What a link offers to the phone that has opened it: whose invitation it is, and whether that phone has joined already."""

    practitioner: str
    is_joined: bool


def read_link(db: Database, token: str, now: datetime, already: Joined | None = None) -> Offer:
    """Say what a link offers, and use nothing up.

    Args:
        db: The records.
        token: The link's token.
        now: The instant of the call, with a zone.
        already: The phone that asks, if it has joined somebody.

    Raises:
        NotAdmittedError: This phone could not join by the link.
    """
    found = _found_by_link(db, token)
    return Offer(practitioners.name_for(db, found.client), _joined_by(found, already, now) is not None)


def join_by_link(db: Database, token: str, device_name: str, now: datetime, already: Joined | None = None) -> Joined:
    """Join by the token of a link, which cannot be guessed.

    Args:
        db: The records.
        token: The link's token.
        device_name: What the phone calls itself.
        now: The instant of the call, with a zone.
        already: The phone that asks, if it has joined somebody. It stays what it is, and the link stays unused.

    Raises:
        NotAdmittedError: The link is not known, used, or over, or the phone belongs to another client.
    """
    return _admit(db, _found_by_link(db, token), device_name, now, already)


def _found_by_link(db: Database, token: str) -> Invitation:
    found = invitations.find(db, token[:LINK_SELECTOR_LENGTH]) if len(token) < LONGEST_TOKEN else None
    if found is None or found.kind != "link" or not invitations.is_secret_of(found, token[LINK_SELECTOR_LENGTH:]):
        raise NotAdmittedError("unknown_link")
    return found


def join_by_code(
    db: Database, typed: str, device_name: str, place: str, now: datetime, already: Joined | None = None
) -> Joined:
    """Join by a short code, which could be guessed: every failure is counted.

    Args:
        db: The records.
        typed: The code as typed: any case, with or without spaces and dashes.
        device_name: What the phone calls itself.
        place: Where the try comes from, such as an address.
        now: The instant of the call, with a zone.
        already: The phone that asks, if it has joined somebody. It stays what it is, and the code stays unused.

    Raises:
        NotAdmittedError: The code is not known, used or over, the phone belongs to another client, or there were too
            many tries.
    """
    _check_tries(db, place, now)
    try:
        return _admit(db, _found_by(db, tidied(typed)), device_name, now, already)
    except NotAdmittedError:
        with write(db):
            attempts.add(db, ANYWHERE, now)
            attempts.add(db, _key(place), now)
        raise


def _found_by(db: Database, code: str) -> Invitation:
    found = invitations.find(db, code[:CODE_SELECTOR_LENGTH]) if len(code) == CODE_LENGTH else None
    if found is None or not _proves(db, found, code[CODE_SELECTOR_LENGTH:]):
        raise NotAdmittedError("unknown_code")
    return found


def tidied(typed: str) -> str:
    """Give the letters of a code, in capitals; a code with a letter of no code's own is empty."""
    letters = "".join(sign for sign in typed.upper() if sign.isalnum())
    return letters if set(letters) <= set(CODE_LETTERS) else ""


def _proves(db: Database, found: Invitation, secret: str) -> bool:
    if found.kind != "code":
        return False
    with write(db):
        tries = invitations.count_try(db, found.id)
    if tries > MOST_TRIES_OF_A_CODE:
        raise NotAdmittedError("over")
    # Slow on purpose, so not inside the write.
    return invitations.is_secret_of(found, secret)


def _admit(db: Database, found: Invitation, device_name: str, now: datetime, already: Joined | None) -> Joined:
    joined = _joined_by(found, already, now)
    if joined is not None:
        return joined
    with write(db):
        if not invitations.use(db, found.id, now):
            raise NotAdmittedError("used")
        device, token = devices.join(db, found.client, device_name, now)
    return Joined(found.client, device, token)


def _joined_by(found: Invitation, already: Joined | None, now: datetime) -> Joined | None:
    """Return the phone that has joined the client of a proven invitation already; None for a phone that may join now.

    Raises:
        NotAdmittedError: The phone has joined another client, or it has not joined and comes too late.
    """
    if already is not None:
        # One phone keeps one client's entries: who wants to change must leave first, so that nothing is mixed or lost.
        if already.client != found.client:
            raise NotAdmittedError("joined_to_another")
        return already
    if found.used_at is not None:
        raise NotAdmittedError("used")
    if found.expires_at <= instant(now):
        raise NotAdmittedError("over")
    return None


def _check_tries(db: Database, place: str, now: datetime) -> None:
    for key, most in ((_key(place), MOST_FAILED_HERE), (ANYWHERE, MOST_FAILED_ANYWHERE)):
        failed = attempts.since(db, key, now - WITHIN)
        if len(failed) >= most:
            # The oldest of the last few must be an hour old before one more may be made.
            free_at = failed[-most] + WITHIN.total_seconds()
            raise NotAdmittedError("too_many_tries", timedelta(seconds=math.ceil(free_at - now.timestamp())))


def _key(place: str) -> str:
    return f"code from {place}"

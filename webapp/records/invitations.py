"""Invitations: a long link for days, a short code for minutes; each opens the door once.

A secret is stored only as a hash. The selector finds the row; the rest of the secret proves the right to it.
Whether an invitation may still be used is decided by who asks.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from argon2 import PasswordHasher
from argon2.exceptions import VerifyMismatchError

from webapp.records import acts
from webapp.records.database import Database, instant, write

LINK_LASTS = timedelta(days=14)
CODE_LASTS = timedelta(minutes=10)
# A client first puts the app on the home screen, with the code on a page behind it. How long a code lasts does not help
# whoever guesses: it stands a few tries in all.
HOME_CODE_LASTS = timedelta(minutes=30)
# Twenty letters that spell no word and are not taken for one another (RFC 8628, section 6.1).
CODE_LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
CODE_LENGTH = 8
CODE_SELECTOR_LENGTH = 3
LINK_SELECTOR_BYTES = 6
LINK_SELECTOR_LENGTH = 8
LINK_SECRET_BYTES = 16
DRAWS = 40

# The least that the OWASP cheat sheet allows: a code lives for minutes, and phones wait for it.
_hasher = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)
# No code's own, since no code holds an E.
_NO_CODE = _hasher.hash("NO CODE")


@dataclass(frozen=True)
class InvitationLink:
    """A new link's token, shown once."""

    token: str
    expires_at: datetime


@dataclass(frozen=True)
class Code:
    """A new short code, shown once: eight letters with a dash in the middle."""

    code: str
    expires_at: datetime


@dataclass(frozen=True)
class Invitation:
    """A stored invitation; instants are UTC text."""

    id: int
    client: int
    kind: str
    secret_hash: str
    made_at: str
    expires_at: str
    used_at: str | None


_COLUMNS = "id, client, kind, secret_hash, made_at, expires_at, used_at"


def make_link(db: Database, client: int, now: datetime) -> InvitationLink:
    """Make a link's token for a client: a selector, and a secret of 128 bits."""
    selector = secrets.token_urlsafe(LINK_SELECTOR_BYTES)
    secret = secrets.token_urlsafe(LINK_SECRET_BYTES)
    link = InvitationLink(selector + secret, now + LINK_LASTS)
    with write(db):
        _insert(db, client, "link", selector, _digest(secret), now, link.expires_at)
    return link


def make_code(db: Database, client: int, now: datetime, lasts: timedelta = CODE_LASTS) -> Code:
    """Make a short code for a client; it ends the one before.

    Args:
        db: The records.
        client: Whose phone it is for.
        now: The instant of the call, with a zone.
        lasts: How long the code can be used.

    Raises:
        LookupError: No free selector was drawn; so many codes are open that guessing would be easy.
    """
    secret = _letters(CODE_LENGTH - CODE_SELECTOR_LENGTH)
    # Hashing takes a while on purpose, so it is done before the write lock is taken.
    secret_hash = _hasher.hash(secret)
    expires_at = now + lasts
    with write(db):
        db.execute("DELETE FROM invitations WHERE kind = 'code' AND client = ? AND used_at IS NULL", (client,))
        selector = _free_selector(db, now)
        _insert(db, client, "code", selector, secret_hash, now, expires_at)
    whole = selector + secret
    return Code(f"{whole[: CODE_LENGTH // 2]}-{whole[CODE_LENGTH // 2 :]}", expires_at)


def find(db: Database, selector: str) -> Invitation | None:
    """Find an invitation by its selector, whatever has become of it."""
    row = db.execute(f"SELECT {_COLUMNS} FROM invitations WHERE selector = ?", (selector,)).fetchone()
    return None if row is None else Invitation(*row)


def open_of(db: Database, client: int, now: datetime) -> list[Invitation]:
    """List a client's invitations that are neither used nor over, newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM invitations WHERE client = ? AND used_at IS NULL AND expires_at > ? ORDER BY id DESC",
        (client, instant(now)),
    ).fetchall()
    return [Invitation(*row) for row in rows]


def withdraw(db: Database, client: int, invitation: int) -> None:
    """Take back an unused invitation of this client; any other is left alone."""
    with write(db):
        row = db.execute(
            "DELETE FROM invitations WHERE id = ? AND client = ? AND used_at IS NULL RETURNING id", (invitation, client)
        ).fetchone()
        if row:
            acts.note(db, acts.INVITATION_ENDED)


def use(db: Database, invitation: int, now: datetime) -> bool:
    """Use an invitation up, inside a write; False if another was quicker."""
    row = db.execute(
        "UPDATE invitations SET used_at = ? WHERE id = ? AND used_at IS NULL RETURNING id", (instant(now), invitation)
    ).fetchone()
    if row:
        acts.note(db, acts.INVITATION_ENDED)
    return row is not None


def is_secret_of_link(invitation: Invitation, secret: str) -> bool:
    """Say whether an invitation is a link, and the secret its own."""
    return invitation.kind == "link" and secrets.compare_digest(_digest(secret), invitation.secret_hash)


def is_secret_of_code(invitation: Invitation | None, secret: str) -> bool:
    """Say whether an invitation is a code, and the secret its own; it takes as long where there is no such invitation."""
    code_hash = invitation.secret_hash if invitation and invitation.kind == "code" else _NO_CODE
    try:
        _hasher.verify(code_hash, secret)
    except VerifyMismatchError:
        return False
    return code_hash != _NO_CODE


def _insert(
    db: Database, client: int, kind: str, selector: str, secret_hash: str, made_at: datetime, expires_at: datetime
) -> None:
    db.execute(
        "INSERT INTO invitations (client, kind, selector, secret_hash, made_at, expires_at) VALUES (?, ?, ?, ?, ?, ?)",
        (client, kind, selector, secret_hash, instant(made_at), instant(expires_at)),
    )


def _free_selector(db: Database, now: datetime) -> str:
    for _ in range(DRAWS):
        selector = _letters(CODE_SELECTOR_LENGTH)
        db.execute(
            "DELETE FROM invitations WHERE selector = ? AND (used_at IS NOT NULL OR expires_at <= ?)",
            (selector, instant(now)),
        )
        if find(db, selector) is None:
            return selector
    raise LookupError("no free selector for a short code")


def _letters(count: int) -> str:
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(count))


def _digest(secret: str) -> str:
    # 128 bits cannot be guessed, so a plain hash is enough and costs nothing.
    return hashlib.sha256(secret.encode()).hexdigest()

"""Invitations: a long link lasts for days, a short code for minutes; each lets one phone join.

A secret is stored only as a hash. Its selector finds the row; the rest of the secret proves that it is the right one. The
caller decides whether an invitation may still be used.
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
# The client first installs the app on the home screen, while the code is on a page in the browser. A long life does not
# help somebody who guesses, since the number of tries is limited.
HOME_CODE_LASTS = timedelta(minutes=30)
# Twenty letters that form no words and are not easily confused (RFC 8628, section 6.1).
CODE_LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
CODE_LENGTH = 8
CODE_SELECTOR_LENGTH = 3
LINK_SELECTOR_BYTES = 6
LINK_SELECTOR_LENGTH = 8
LINK_SECRET_BYTES = 16
DRAWS = 40

# The lowest cost that the OWASP cheat sheet allows: a code lasts only minutes, and phones wait for the hash.
_hasher = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)
# No real code has this selector, since no code contains an E.
_NO_CODE = _hasher.hash("NO CODE")


@dataclass(frozen=True)
class InvitationLink:
    """The token of a new link; it is shown only once."""

    token: str
    expires_at: datetime


@dataclass(frozen=True)
class Code:
    """A new short code, eight letters with a dash in the middle; it is shown only once."""

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
    """Make a short code for a client; the client's earlier code ends.

    Args:
        db: The records.
        client: The client's key.
        now: The instant of the call, with a zone.
        lasts: The time for which the code can be used.

    Raises:
        LookupError: No free selector was found: so many codes are open that guessing would be easy.
    """
    secret = _letters(CODE_LENGTH - CODE_SELECTOR_LENGTH)
    # Hashing is slow on purpose, so it is done before the write lock is taken.
    secret_hash = _hasher.hash(secret)
    expires_at = now + lasts
    with write(db):
        db.execute("DELETE FROM invitations WHERE kind = 'code' AND client = ? AND used_at IS NULL", (client,))
        selector = _free_selector(db, now)
        _insert(db, client, "code", selector, secret_hash, now, expires_at)
    whole = selector + secret
    return Code(f"{whole[: CODE_LENGTH // 2]}-{whole[CODE_LENGTH // 2 :]}", expires_at)


def find(db: Database, selector: str) -> Invitation | None:
    """Return the invitation with a selector, even if it is used or over, or None."""
    row = db.execute(f"SELECT {_COLUMNS} FROM invitations WHERE selector = ?", (selector,)).fetchone()
    return None if row is None else Invitation(*row)


def open_of(db: Database, client: int, now: datetime) -> list[Invitation]:
    """List a client's invitations that are neither used nor over, the newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM invitations WHERE client = ? AND used_at IS NULL AND expires_at > ? ORDER BY id DESC",
        (client, instant(now)),
    ).fetchall()
    return [Invitation(*row) for row in rows]


def withdraw(db: Database, client: int, invitation: int) -> None:
    """Withdraw an unused invitation of this client; any other invitation stays unchanged."""
    with write(db):
        row = db.execute(
            "DELETE FROM invitations WHERE id = ? AND client = ? AND used_at IS NULL RETURNING id", (invitation, client)
        ).fetchone()
        if row:
            acts.note(db, acts.INVITATION_ENDED)


def use(db: Database, invitation: int, now: datetime) -> bool:
    """Mark an invitation as used, inside a write; False if it was used already."""
    row = db.execute(
        "UPDATE invitations SET used_at = ? WHERE id = ? AND used_at IS NULL RETURNING id", (instant(now), invitation)
    ).fetchone()
    if row:
        acts.note(db, acts.INVITATION_ENDED)
    return row is not None


def is_secret_of_link(invitation: Invitation, secret: str) -> bool:
    """Whether an invitation is a link, and a secret is its secret."""
    return invitation.kind == "link" and secrets.compare_digest(_digest(secret), invitation.secret_hash)


def is_secret_of_code(invitation: Invitation | None, secret: str) -> bool:
    """Whether an invitation is a code, and a secret is its secret; the check takes the same time without an invitation."""
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
    # 128 bits cannot be guessed, so a plain and fast hash is enough.
    return hashlib.sha256(secret.encode()).hexdigest()

"""Members of a practice: they come in by a link that works once, and they leave.

The link's token is stored only as a hash. Who has left keeps a row, since old routine versions name who pushed them.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from webapp.records import acts, groups, recovery
from webapp.records.database import Database, instant, write
from webapp.records.practices import MEMBER
from webapp.records.practitioners import EmailTakenError

LINK_LASTS = timedelta(days=7)
TOKEN_BYTES = 32


class NoCodeError(ValueError):
    """A practitioner with a password and no recovery code gets no link: whoever holds it would become them."""


class HasClientsError(ValueError):
    """A practitioner who still has clients cannot be removed."""


@dataclass(frozen=True)
class PasswordLink:
    """A link by which a practitioner sets a password; the token is shown only once."""

    token: str
    expires_at: datetime


@dataclass(frozen=True)
class Invited:
    """A practitioner who opened a valid link.

    Attributes:
        practitioner: The key.
        name: The name.
        email: The address for signing in.
        practice: The name of the practice.
        code_hash: The hash of the recovery code that must come with the password; "" for who has never had one.
    """

    practitioner: int
    name: str
    email: str
    practice: str
    code_hash: str


def add(db: Database, practice: int, name: str, email: str, now: datetime) -> int:
    """Add a member without a password, and return the key; who had left this practice comes back.

    Args:
        db: The records.
        practice: The practice's key.
        name: The name that clients and colleagues see.
        email: The address for signing in; upper and lower case count as the same.
        now: The instant of the call, with a zone.

    Raises:
        EmailTakenError: Somebody who works here, or in another practice, has this address.
    """
    address = email.strip().lower()
    with write(db):
        row = db.execute(
            "INSERT INTO practitioners (name, email, password_hash, created_at, practice, role) VALUES (?, ?, '', ?, ?, ?)"
            " ON CONFLICT (email) DO UPDATE SET name = excluded.name, password_hash = '', removed_at = NULL, role = ?,"
            # Who left without clients begins anew. Who still has some, as after a restore, needs the earlier code.
            " recovery_hash = CASE WHEN EXISTS (SELECT 1 FROM clients c WHERE c.practitioner = practitioners.id)"
            " THEN recovery_hash ELSE '' END"
            " WHERE practice = excluded.practice AND removed_at IS NOT NULL RETURNING id",
            (name, address, instant(now), practice, MEMBER, MEMBER),
        ).fetchone()
    if row is None:
        raise EmailTakenError(address)
    return int(row[0])


def make_link(db: Database, practitioner: int, now: datetime, by: int | None = None) -> PasswordLink:
    """Make the link by which a practitioner sets a password; an earlier link ends.

    Args:
        db: The records.
        practitioner: Whose password it is.
        now: The instant of the call, with a zone.
        by: The owner who makes the link.

    Raises:
        NoCodeError: The practitioner has a password and no recovery code.
    """
    link = PasswordLink(secrets.token_urlsafe(TOKEN_BYTES), now + LINK_LASTS)
    with write(db):
        has_password, code_hash = db.execute(
            "SELECT password_hash <> '', recovery_hash FROM practitioners WHERE id = ?", (practitioner,)
        ).fetchone()
        if has_password and not code_hash:
            raise NoCodeError
        if code_hash:
            recovery.note(db, practitioner, recovery.LINK_MADE, now, by, is_seen=False)
        db.execute("DELETE FROM password_links WHERE practitioner = ?", (practitioner,))
        db.execute(
            "INSERT INTO password_links (token_hash, practitioner, expires_at) VALUES (?, ?, ?)",
            (_digest(link.token), practitioner, instant(link.expires_at)),
        )
    return link


def invited_by(db: Database, token: str, now: datetime) -> Invited | None:
    """Return whom a link lets in; None where the link is unknown, used, over, or of someone who has left."""
    row = db.execute(
        "SELECT p.id, p.name, p.email, h.name, p.recovery_hash FROM password_links l JOIN practitioners p ON p.id = l.practitioner"
        " JOIN practices h ON h.id = p.practice"
        " WHERE l.token_hash = ? AND l.expires_at > ? AND p.removed_at IS NULL",
        (_digest(token), instant(now)),
    ).fetchone()
    return None if row is None else Invited(*row)


@dataclass(frozen=True)
class NewSecrets:
    """The hashes of a new password and of the recovery code that was drawn with it."""

    password_hash: str
    code_hash: str


def set_password(db: Database, token: str, invited: Invited, new: NewSecrets, now: datetime) -> bool:
    """Set a password by a link, which is used up; every earlier sign-in ends. False where the link is gone by now.

    The caller has checked the recovery code of who has one.
    """
    with write(db):
        if not _count(db, "DELETE FROM password_links WHERE token_hash = ? RETURNING 1", _digest(token)):
            return False
        _store(db, invited.practitioner, new)
        recovery.note(db, invited.practitioner, recovery.SET_BY_LINK, now, is_seen=not invited.code_hash)
    return True


def replace_password(db: Database, practitioner: int, new: NewSecrets, kind: str, now: datetime) -> None:
    """Set a password without a link; every sign-in and link ends.

    Args:
        db: The records.
        practitioner: Whose password it is.
        new: What is stored.
        kind: `recovery.SET_AGAIN` by the practitioner, `recovery.SET_BY_SERVER` by the command line.
        now: The instant of the call, with a zone.
    """
    with write(db):
        db.execute("DELETE FROM password_links WHERE practitioner = ?", (practitioner,))
        _store(db, practitioner, new)
        recovery.note(db, practitioner, kind, now, is_seen=kind == recovery.SET_AGAIN)


def _store(db: Database, practitioner: int, new: NewSecrets) -> None:
    db.execute(
        "UPDATE practitioners SET password_hash = ?, recovery_hash = ? WHERE id = ?",
        (new.password_hash, new.code_hash, practitioner),
    )
    _end_sign_ins(db, practitioner)


def remove(db: Database, practice: int, practitioner: int, now: datetime) -> None:
    """Remove a member: sign-ins and links end at once. Removing somebody twice changes nothing.

    Raises:
        HasClientsError: The member still has clients.
    """
    with write(db):
        if _count(db, "SELECT 1 FROM clients WHERE practitioner = ? AND ended_at IS NULL LIMIT 1", practitioner):
            raise HasClientsError
        here = _count(db, "SELECT 1 FROM practitioners WHERE id = ? AND practice = ?", practitioner, practice)
        if here and shut_out(db, practitioner, now):
            acts.note(db, acts.MEMBER_REMOVED, str(practitioner))


def name_of_removed(db: Database, practice: int, practitioner: int) -> str | None:
    """Return the name of a member of this practice who was removed; None for anybody else."""
    row = db.execute(
        "SELECT name FROM practitioners WHERE id = ? AND practice = ? AND removed_at IS NOT NULL",
        (practitioner, practice),
    ).fetchone()
    return None if row is None else str(row[0])


def shut_out(db: Database, practitioner: int, now: datetime) -> bool:
    """Shut a member out with the groups, inside a write, and return whether somebody was; an owner is never shut out."""
    gone = _count(
        db,
        "UPDATE practitioners SET removed_at = ?, password_hash = '' WHERE id = ? AND role = ? AND removed_at IS NULL"
        " RETURNING id",
        *(instant(now), practitioner, MEMBER),
    )
    if gone:
        db.execute("DELETE FROM password_links WHERE practitioner = ?", (practitioner,))
        db.execute("DELETE FROM practitioner_sessions WHERE practitioner = ?", (practitioner,))
        groups.close_of(db, practitioner, now)
    return bool(gone)


def forget_passwords(db: Database) -> None:
    """Take every member's password away, inside a write; an owner's new link gives another."""
    db.execute("UPDATE practitioners SET password_hash = '' WHERE role = ?", (MEMBER,))


def _end_sign_ins(db: Database, practitioner: int) -> None:
    ended = _count(db, "DELETE FROM practitioner_sessions WHERE practitioner = ? RETURNING 1", practitioner)
    if ended:
        acts.note(db, acts.SIGN_IN_ENDED)


def _count(db: Database, statement: str, *values: object) -> int:
    return len(db.execute(statement, values).fetchall())


def _digest(token: str) -> str:
    # 256 bits cannot be guessed, so a plain and fast hash is enough.
    return hashlib.sha256(token.encode()).hexdigest()

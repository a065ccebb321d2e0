"""Practitioners and their sign-ins.

A sign-in is a row, so that the server can end it. The cookie's token is stored only as a hash.
"""

from dataclasses import dataclass
from datetime import datetime

from webapp.records import acts
from webapp.records.database import Database, instant, write


class EmailTakenError(ValueError):
    """There already is a practitioner with this e-mail address."""


@dataclass(frozen=True)
class Practitioner:
    """A practitioner; the e-mail address is in lower case, the language of the desk is "" until one is chosen."""

    id: int
    name: str
    email: str
    locale: str = ""


@dataclass(frozen=True)
class SignIn:
    """A sign-in of a practitioner; both instants are UTC text."""

    practitioner: Practitioner
    created_at: str
    seen_at: str


def add(db: Database, name: str, email: str, password_hash: str, now: datetime) -> Practitioner:
    """Add a practitioner.

    Args:
        db: The records.
        name: The name that clients and colleagues see.
        email: The address for signing in; upper and lower case count as the same.
        password_hash: The hash of the password; this room never sees a password.
        now: The instant of the call, with a zone.

    Returns:
        The practitioner as stored.

    Raises:
        EmailTakenError: The address is in use.
    """
    address = email.strip().lower()
    with write(db):
        row = db.execute(
            "INSERT INTO practitioners (name, email, password_hash, created_at) VALUES (?, ?, ?, ?)"
            " ON CONFLICT DO NOTHING RETURNING id",
            (name, address, password_hash, instant(now)),
        ).fetchone()
    if row is None:
        raise EmailTakenError(address)
    return Practitioner(row[0], name, address)


def with_password(db: Database, email: str) -> tuple[Practitioner, str] | None:
    """Return the practitioner with an e-mail address and the hash of the password, or None."""
    row = db.execute(
        "SELECT id, name, email, locale, password_hash FROM practitioners WHERE email = ?", (email.strip().lower(),)
    ).fetchone()
    return None if row is None else (Practitioner(*row[:4]), row[4])


def name_for(db: Database, client: int) -> str:
    """Return the name of a client's practitioner.

    Raises:
        LookupError: There is no such client.
    """
    row = db.execute(
        "SELECT p.name FROM clients c JOIN practitioners p ON p.id = c.practitioner WHERE c.id = ?", (client,)
    ).fetchone()
    if row is None:
        raise LookupError(f"no client {client}")
    return str(row[0])


def change_password_hash(db: Database, practitioner: int, password_hash: str) -> None:
    """Replace the hash of a password, as after the cost of hashing was raised."""
    with write(db):
        db.execute("UPDATE practitioners SET password_hash = ? WHERE id = ?", (password_hash, practitioner))


def choose_locale(db: Database, practitioner: int, locale: str) -> None:
    """Keep the language in which a practitioner reads the desk."""
    with write(db):
        db.execute("UPDATE practitioners SET locale = ? WHERE id = ?", (locale, practitioner))


def begin_sign_in(db: Database, practitioner: int, token_hash: str, now: datetime, oldest: datetime) -> None:
    """Store a sign-in, and delete all sign-ins that began before `oldest`."""
    with write(db):
        db.execute("DELETE FROM practitioner_sessions WHERE created_at < ?", (instant(oldest),))
        db.execute(
            "INSERT INTO practitioner_sessions (token_hash, practitioner, created_at, seen_at) VALUES (?, ?, ?, ?)",
            (token_hash, practitioner, instant(now), instant(now)),
        )


def sign_in_of(db: Database, token_hash: str) -> SignIn | None:
    """Return the sign-in that a cookie stands for, or None; the caller decides whether it is still valid."""
    row = db.execute(
        "SELECT p.id, p.name, p.email, p.locale, s.created_at, s.seen_at FROM practitioner_sessions s"
        " JOIN practitioners p ON p.id = s.practitioner WHERE s.token_hash = ?",
        (token_hash,),
    ).fetchone()
    return None if row is None else SignIn(Practitioner(*row[:4]), row[4], row[5])


def see(db: Database, token_hash: str, now: datetime) -> None:
    """Store the instant at which a sign-in was last used."""
    with write(db):
        db.execute("UPDATE practitioner_sessions SET seen_at = ? WHERE token_hash = ?", (instant(now), token_hash))


def end_sign_in(db: Database, token_hash: str) -> None:
    """End a sign-in; ending it twice changes nothing."""
    with write(db):
        row = db.execute(
            "DELETE FROM practitioner_sessions WHERE token_hash = ? RETURNING token_hash", (token_hash,)
        ).fetchone()
        if row:
            acts.note(db, acts.SIGN_IN_ENDED)

"""Practitioners and their sign-ins.

A sign-in is a row, so that the server can end it. The cookie's token is stored only as a hash.
"""

from dataclasses import astuple, dataclass
from datetime import datetime

from webapp.records import acts
from webapp.records.database import Database, instant, write

_REACH = "p.telephone, p.hours, p.contact_email, p.letters_read"


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
class Reach:
    """How clients reach a practitioner; each text may be empty.

    Attributes:
        telephone: As it is dialled: digits with spaces, dots or hyphens between them, and perhaps a + before them.
        hours: When the practitioner can be reached, in a few words.
        email: An address that clients may write to; the practitioner need not sign in with it.
        letters_read: How soon the practitioner reads letters, in a few words.
    """

    telephone: str = ""
    hours: str = ""
    email: str = ""
    letters_read: str = ""


UNSAID = Reach()


@dataclass(frozen=True)
class SignIn:
    """A sign-in of a practitioner; both instants are UTC text."""

    practitioner: Practitioner
    created_at: str
    seen_at: str


def add(db: Database, name: str, email: str, password_hash: str, now: datetime, reach: Reach = UNSAID) -> Practitioner:
    """Add a practitioner.

    Args:
        db: The records.
        name: The name that clients and colleagues see.
        email: The address for signing in; upper and lower case count as the same.
        password_hash: The hash of the password; this room never sees a password.
        now: The instant of the call, with a zone.
        reach: How clients reach the practitioner.

    Returns:
        The practitioner as stored.

    Raises:
        EmailTakenError: The address is in use.
    """
    address = email.strip().lower()
    with write(db):
        row = db.execute(
            "INSERT INTO practitioners (name, email, password_hash, created_at, telephone, hours, contact_email, letters_read)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING RETURNING id",
            (name, address, password_hash, instant(now), *astuple(reach)),
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


def reach_for(db: Database, client: int) -> tuple[str, Reach]:
    """Return the name of a client's practitioner, and how the client reaches them.

    Raises:
        LookupError: There is no such client.
    """
    row = db.execute(
        f"SELECT p.name, {_REACH} FROM clients c JOIN practitioners p ON p.id = c.practitioner WHERE c.id = ?",
        (client,),
    ).fetchone()
    if row is None:
        raise LookupError(f"no client {client}")
    return str(row[0]), Reach(*row[1:])


def reach_of(db: Database, practitioner: int) -> Reach:
    """Return how clients reach a practitioner."""
    return Reach(*db.execute(f"SELECT {_REACH} FROM practitioners p WHERE id = ?", (practitioner,)).fetchone())


def change(db: Database, practitioner: int, name: str, reach: Reach) -> None:
    """Store the name of a practitioner, and how clients reach them."""
    with write(db):
        db.execute(
            "UPDATE practitioners SET name = ?, telephone = ?, hours = ?, contact_email = ?, letters_read = ? WHERE id = ?",
            (name, *astuple(reach), practitioner),
        )


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

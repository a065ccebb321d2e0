"""Practitioners and their sign-ins.

A sign-in is a row, so that the server can end it. The cookie's token is stored only as a hash.
"""

from dataclasses import astuple, dataclass, replace
from datetime import datetime

from webapp.records import acts, practices
from webapp.records.database import Database, instant, write

_REACH = "p.telephone, p.hours, p.contact_email, p.letters_read"
_WHO = "p.id, p.name, p.email, p.locale, p.practice, p.role"


class EmailTakenError(ValueError):
    """There already is a practitioner with this e-mail address."""


@dataclass(frozen=True)
class Practitioner:
    """A practitioner; the e-mail address is in lower case, the language of the desk is "" until one is chosen.

    `practice` is the key of the practice, `role` one of `practices.ROLES`.
    """

    id: int
    name: str
    email: str
    locale: str
    practice: int
    role: str

    @property
    def is_owner(self) -> bool:
        """Whether the practitioner is an owner of the practice."""
        return self.role == practices.OWNER


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
    """Add a practitioner, who is the owner of a new practice of the same name.

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
        if db.execute("SELECT 1 FROM practitioners WHERE email = ?", (address,)).fetchone():
            raise EmailTakenError(address)
        practice = practices.begin(db, name)
        row = db.execute(
            "INSERT INTO practitioners (name, email, password_hash, created_at, practice, role,"
            " telephone, hours, contact_email, letters_read) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id",
            (name, address, password_hash, instant(now), practice, practices.OWNER, *astuple(reach)),
        ).fetchone()
    return Practitioner(row[0], name, address, "", practice, practices.OWNER)


def with_password(db: Database, email: str) -> tuple[Practitioner, str] | None:
    """Return the practitioner with an e-mail address and the hash of the password, or None.

    Nobody signs in who has left, or who has not set a password yet.
    """
    row = db.execute(
        f"SELECT {_WHO}, p.password_hash FROM practitioners p"
        " WHERE email = ? AND removed_at IS NULL AND password_hash <> ''",
        (email.strip().lower(),),
    ).fetchone()
    return None if row is None else (Practitioner(*row[:6]), row[6])


def by_email(db: Database, email: str) -> Practitioner | None:
    """Return who works here with an e-mail address, also without a password; None for nobody."""
    row = db.execute(
        f"SELECT {_WHO} FROM practitioners p WHERE email = ? AND removed_at IS NULL", (email.strip().lower(),)
    ).fetchone()
    return None if row is None else Practitioner(*row)


def at_work(db: Database, practice: int) -> list[Practitioner]:
    """List who works in a practice and has set a password, by name."""
    rows = db.execute(
        f"SELECT {_WHO} FROM practitioners p WHERE practice = ? AND removed_at IS NULL AND password_hash <> ''"
        " ORDER BY name COLLATE NOCASE, id",
        (practice,),
    ).fetchall()
    return [Practitioner(*row) for row in rows]


def find(db: Database, practitioner: int) -> Practitioner:
    """Return a practitioner, also one who has left."""
    return Practitioner(*db.execute(f"SELECT {_WHO} FROM practitioners p WHERE id = ?", (practitioner,)).fetchone())


def reach_for(db: Database, client: int) -> tuple[str, Reach]:
    """Return the name of a client's practitioner, and how the client reaches them.

    Where the practitioner has no telephone of their own, the number and the hours of the practice stand in.

    Raises:
        LookupError: There is no such client.
    """
    row = db.execute("SELECT practitioner FROM clients WHERE id = ?", (client,)).fetchone()
    if row is None:
        raise LookupError(f"no client {client}")
    return told_by(db, row[0])


def told_by(db: Database, practitioner: int) -> tuple[str, Reach]:
    """Return the name of a practitioner, and how their clients reach them; otherwise as `reach_for`."""
    name, telephone, hours, *own = db.execute(
        f"SELECT p.name, h.telephone, h.hours, {_REACH} FROM practitioners p JOIN practices h ON h.id = p.practice"
        " WHERE p.id = ?",
        (practitioner,),
    ).fetchone()
    reach = Reach(*own)
    return str(name), reach if reach.telephone else replace(reach, telephone=telephone, hours=reach.hours or hours)


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
    """Return the sign-in that a cookie stands for, or None; the caller decides whether it is still valid.

    Who has left the practice has no sign-in.
    """
    row = db.execute(
        f"SELECT {_WHO}, s.created_at, s.seen_at FROM practitioner_sessions s"
        " JOIN practitioners p ON p.id = s.practitioner WHERE s.token_hash = ? AND p.removed_at IS NULL",
        (token_hash,),
    ).fetchone()
    return None if row is None else SignIn(Practitioner(*row[:6]), row[6], row[7])


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

"""What stands against a stolen account: each practitioner's recovery code, as a hash, and what happened to their password.

A link for a new password sets one only together with the code, which nobody but the practitioner was ever shown.
"""

from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write

LINK_MADE, SET_BY_LINK, SET_BY_SERVER, SET_AGAIN = "link_made", "set_by_link", "set_by_server", "set_again"


@dataclass(frozen=True)
class PasswordEvent:
    """What happened to a practitioner's password.

    Attributes:
        id: The key.
        kind: One of the constants above.
        by: The name of who made a link, or "".
        at: The instant, UTC text.
    """

    id: int
    kind: str
    by: str
    at: str


def code_hash_of(db: Database, practitioner: int) -> str:
    """Return the hash of a practitioner's recovery code, or "" where they have none."""
    return str(db.execute("SELECT recovery_hash FROM practitioners WHERE id = ?", (practitioner,)).fetchone()[0])


def note(db: Database, practitioner: int, kind: str, now: datetime, by: int | None = None, *, is_seen: bool) -> None:
    """Note, inside a write, what happened to a password; `is_seen` says that the practitioner knows of it already."""
    at = instant(now)
    db.execute(
        "INSERT INTO password_events (practitioner, what, by_whom, at, seen_at) VALUES (?, ?, ?, ?, ?)",
        (practitioner, kind, by, at, at if is_seen else None),
    )


def unseen_of(db: Database, practitioner: int) -> list[PasswordEvent]:
    """List what happened to a practitioner's password that they have not said to know of, the latest first."""
    return _found(db, practitioner, "AND e.seen_at IS NULL", 9)


def latest_of(db: Database, practitioner: int, most: int) -> list[PasswordEvent]:
    """List the last things that happened to a practitioner's password, the latest first."""
    return _found(db, practitioner, "", most)


def see(db: Database, practitioner: int, now: datetime) -> None:
    """Note that a practitioner knows of all that happened to their password; a second time changes nothing."""
    with write(db):
        db.execute(
            "UPDATE password_events SET seen_at = ? WHERE practitioner = ? AND seen_at IS NULL",
            (instant(now), practitioner),
        )


def _found(db: Database, practitioner: int, more: str, most: int) -> list[PasswordEvent]:
    rows = db.execute(
        "SELECT e.id, e.what, COALESCE(p.name, ''), e.at FROM password_events e"
        f" LEFT JOIN practitioners p ON p.id = e.by_whom WHERE e.practitioner = ? {more} ORDER BY e.id DESC LIMIT ?",
        (practitioner, most),
    ).fetchall()
    return [PasswordEvent(*row) for row in rows]

"""Hand-overs: a client goes from one practitioner to a colleague of the same practice, with a reason."""

from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write


@dataclass(frozen=True)
class HandOver:
    """A hand-over.

    Attributes:
        id: The key.
        public_id: The client's id in addresses.
        name: The client's name.
        by: The name of who handed the client over.
        before: The name of the practitioner before.
        reason: Why, in the words of who handed over.
        at: The instant, UTC text.
    """

    id: int
    public_id: str
    name: str
    by: str
    before: str
    reason: str
    at: str


def hand_over(db: Database, client: int, before: int, to: int, by: int, reason: str, now: datetime) -> bool:
    """Move a client to a colleague, inside a write.

    Args:
        db: The records.
        client: The client's key.
        before: The practitioner who is thought to have the client.
        to: The colleague; must work in the same practice now, and have a password.
        by: Who hands over: the practitioner, or an owner of the practice.
        reason: Why.
        now: The instant of the call, with a zone.

    Returns:
        False where nothing was moved: the client is with somebody else by now, or the colleague cannot take them.
    """
    moved = db.execute(
        "UPDATE clients SET practitioner = ?1 WHERE id = ?2 AND practitioner = ?3 AND ?1 <> ?3 AND EXISTS ("
        " SELECT 1 FROM practitioners a JOIN practitioners b ON a.practice = b.practice"
        " WHERE a.id = ?1 AND b.id = ?3 AND a.removed_at IS NULL AND a.password_hash <> '') RETURNING id",
        (to, client, before),
    ).fetchone()
    if moved:
        db.execute(
            "INSERT INTO hand_overs (client, before, now_with, by_whom, reason, at) VALUES (?, ?, ?, ?, ?, ?)",
            (client, before, to, by, reason, instant(now)),
        )
    return bool(moved)


def given_away(db: Database, practitioner: int, public_id: str) -> str | None:
    """Return the name of a client whom a practitioner handed over by themselves and has not got back; None for any other."""
    row = db.execute(
        "SELECT c.name FROM hand_overs h JOIN clients c ON c.id = h.client WHERE c.public_id = ?2 AND c.ended_at IS NULL"
        " AND h.before = ?1 AND h.by_whom = ?1 AND c.practitioner <> ?1 LIMIT 1",
        (practitioner, public_id),
    ).fetchone()
    return None if row is None else str(row[0])


def unseen_of(db: Database, practitioner: int) -> list[HandOver]:
    """List the clients who were handed to a practitioner and not looked at since, the latest first."""
    rows = db.execute(
        "SELECT h.id, c.public_id, c.name, w.name, b.name, h.reason, h.at FROM hand_overs h JOIN clients c ON c.id = h.client"
        " JOIN practitioners w ON w.id = h.by_whom JOIN practitioners b ON b.id = h.before"
        " WHERE h.now_with = ?1 AND c.practitioner = ?1 AND c.ended_at IS NULL AND h.seen_at IS NULL ORDER BY h.id DESC",
        (practitioner,),
    ).fetchall()
    return [HandOver(*row) for row in rows]


def see(db: Database, client: int, now: datetime) -> None:
    """Note that the practitioner has seen that a client was handed to them; a second time changes nothing."""
    with write(db):
        db.execute("UPDATE hand_overs SET seen_at = ? WHERE client = ? AND seen_at IS NULL", (instant(now), client))

"""Private notes of the practice about a client. No phone reads them, and no log holds them.

A note is never edited and never deleted by itself: it can be struck out, and then says by whom and when.
"""

from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write


@dataclass(frozen=True)
class PrivateNote:
    """One note.

    Attributes:
        id: The key.
        text: What was written.
        by: The name of who wrote it.
        at: The instant, UTC text.
        struck_by: The name of who struck it out, or None.
        struck_at: The instant of that, UTC text, or None.
    """

    id: int
    text: str
    by: str
    at: str
    struck_by: str | None
    struck_at: str | None


def of_client(db: Database, client: int) -> list[PrivateNote]:
    """List a client's notes, the newest first."""
    rows = db.execute(
        "SELECT n.id, n.text, w.name, n.written_at, s.name, n.struck_at FROM private_notes n"
        " JOIN practitioners w ON w.id = n.written_by LEFT JOIN practitioners s ON s.id = n.struck_by"
        " WHERE n.client = ? ORDER BY n.id DESC",
        (client,),
    )
    return [PrivateNote(*row) for row in rows]


def add(db: Database, client: int, text: str, by: int, key: str, now: datetime) -> None:
    """Store a note; the same form sent twice, with the same key, writes once."""
    with write(db):
        db.execute(
            "INSERT INTO private_notes (client, key, text, written_by, written_at) VALUES (?, ?, ?, ?, ?)"
            " ON CONFLICT (client, key) DO NOTHING",
            (client, key, text, by, instant(now)),
        )


def strike_out(db: Database, client: int, note: int, by: int, now: datetime) -> bool:
    """Strike out a note; return False where there is no such note, or it is struck out already."""
    with write(db):
        done = db.execute(
            "UPDATE private_notes SET struck_by = ?, struck_at = ? WHERE client = ? AND id = ? AND struck_at IS NULL",
            (by, instant(now), client, note),
        )
        return bool(done.rowcount)

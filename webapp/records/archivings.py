"""The archive of the practice: cases put away with a reason, and taken back. No phone reads it, and no log holds it.

Rows are only added. The last row of a client says whether the case is in the archive.
"""

import json
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant


@dataclass(frozen=True)
class Archiving:
    """A case was put into the archive, or taken back.

    Attributes:
        id: The key; a later row has a greater one.
        is_archived: Whether the case was put into the archive; else it was taken back.
        reason: Why it was put there; "" where it was taken back.
        by: The name of who did it.
        at: The instant, UTC text.
        entries: How many entries the client's log has got since, of the kinds that were asked for; 0 for earlier rows.
        first_at: The instant at which the first of them was stored, UTC text, or None.
    """

    id: int
    is_archived: bool
    reason: str
    by: str
    at: str
    entries: int = 0
    first_at: str | None = None


_ROWS = (
    "SELECT a.id, a.is_archived, a.reason, p.name, a.at FROM archivings a JOIN practitioners p ON p.id = a.by_whom"
    " WHERE a.client = ? ORDER BY a.id DESC"
)
_SINCE = "FROM events e WHERE e.client = a.client AND e.seq > a.through_seq AND e.kind NOT IN (SELECT value FROM json_each(?1))"
_ARCHIVED = (
    f"SELECT a.client, a.id, a.is_archived, a.reason, p.name, a.at, (SELECT COUNT(*) {_SINCE}),"
    f" (SELECT MIN(e.received_at) {_SINCE}) FROM archivings a JOIN practitioners p ON p.id = a.by_whom"
    " JOIN clients c ON c.id = a.client WHERE a.is_archived AND c.ended_at IS NULL"
    " AND a.id = (SELECT MAX(id) FROM archivings l WHERE l.client = a.client)"
)


def of_client(db: Database, client: int) -> list[Archiving]:
    """List every time that a case was put into the archive or taken back, the latest first; without entries."""
    return [_archiving(row) for row in db.execute(_ROWS, (client,)).fetchall()]


def archived(db: Database, practitioner: int, quiet: Collection[str]) -> dict[int, Archiving]:
    """Return who is in the archive among a practitioner's clients, by the client's key.

    Args:
        db: The records.
        practitioner: The practitioner's key.
        quiet: The kinds of entries that are not counted.
    """
    rows = db.execute(f"{_ARCHIVED} AND c.practitioner = ?2", (json.dumps(sorted(quiet)), practitioner)).fetchall()
    return {row[0]: _archiving(row[1:]) for row in rows}


def archived_client(db: Database, client: int, quiet: Collection[str]) -> Archiving | None:
    """Return the same for one client; None where the case is not in the archive."""
    row = db.execute(f"{_ARCHIVED} AND c.id = ?2", (json.dumps(sorted(quiet)), client)).fetchone()
    return None if row is None else _archiving(row[1:])


def put(db: Database, client: int, *, is_archived: bool, reason: str, by: int, now: datetime) -> None:
    """Put a case into the archive, or take it back, inside a write; what the log holds by now counts as known."""
    db.execute(
        "INSERT INTO archivings (client, is_archived, reason, by_whom, at, through_seq)"
        " VALUES (?1, ?2, ?3, ?4, ?5, (SELECT COALESCE(MAX(seq), 0) FROM events WHERE client = ?1))",
        (client, int(is_archived), reason, by, instant(now)),
    )


def _archiving(row: tuple[int, int, str, str, str, *tuple[object, ...]]) -> Archiving:
    entries, first_at = row[5:] or (0, None)
    return Archiving(
        row[0], bool(row[1]), row[2], row[3], row[4], int(str(entries)), str(first_at) if first_at else None
    )

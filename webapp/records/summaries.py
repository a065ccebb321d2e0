"""A cache of the caseload's rows, one summary for each client; it is computed at each write.

A summary names the last event and the routine version from which it was computed. If the log or the routine is newer, the
summary is stale, and no look-up returns it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.records.database import Database

_MADE_FROM_ALL = (
    "s.client = c.id AND s.through_seq = (SELECT COALESCE(MAX(seq), 0) FROM events e WHERE e.client = c.id)"
    " AND s.version = (SELECT COALESCE(MAX(version), 0) FROM routine_versions v WHERE v.client = c.id)"
)


@dataclass(frozen=True)
class StoredSummary:
    """A stored summary of a client.

    Attributes:
        client: The client's key.
        through_seq: The number of the last event from which it was computed, 0 for none.
        version: The newest routine version from which it was computed, 0 for none.
        content: JSON, written and read by `sync/summary.py`.
    """

    client: int
    through_seq: int
    version: int
    content: str


def keep(db: Database, summaries: Iterable[StoredSummary]) -> None:
    """Store summaries inside a write; they replace earlier summaries of the same clients."""
    db.conn.executemany(
        "INSERT INTO summaries (client, through_seq, version, told) VALUES (?, ?, ?, ?) ON CONFLICT (client) DO UPDATE"
        " SET through_seq = excluded.through_seq, version = excluded.version, told = excluded.told",
        [(summary.client, summary.through_seq, summary.version, summary.content) for summary in summaries],
    )


def of_practitioner(db: Database, practitioner: int) -> dict[int, str | None]:
    """Return the JSON of each current client's summary, by the client's key; None if it is stale or missing.

    The client whose phone synced last comes first.
    """
    return dict(_contents(db, "c.practitioner = ?", (practitioner,)))


def of_everybody(db: Database) -> dict[int, str | None]:
    """Return the same for the current clients of all practitioners."""
    return dict(_contents(db, "TRUE", ()))


def find(db: Database, client: int) -> str | None:
    """Return the JSON of one client's summary, or None if it is stale or missing."""
    return next((text for _, text in _contents(db, "c.id = ?", (client,))), None)


def _contents(db: Database, where: str, values: tuple[object, ...]) -> list[tuple[int, str | None]]:
    found: list[tuple[int, str | None]] = db.execute(
        f"SELECT c.id, s.told FROM clients c LEFT JOIN summaries s ON {_MADE_FROM_ALL}"
        f" WHERE {where} AND c.ended_at IS NULL"
        " ORDER BY (SELECT MAX(last_sync_at) FROM devices d WHERE d.client = c.id) DESC, c.id",
        values,
    ).fetchall()
    return found


def not_stale(db: Database) -> list[tuple[str, StoredSummary]]:
    """List the summaries of all current clients that are not stale, each with the client's public id."""
    rows = db.execute(
        "SELECT c.public_id, s.client, s.through_seq, s.version, s.told FROM clients c"
        f" JOIN summaries s ON {_MADE_FROM_ALL} WHERE c.ended_at IS NULL ORDER BY c.id"
    ).fetchall()
    return [(row[0], StoredSummary(*row[1:])) for row in rows]

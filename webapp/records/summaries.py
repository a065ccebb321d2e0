"""Two caches of the caseload's rows, each with one row for each client: summaries, computed at each write, and glances.

A row names the last event and the routine version from which it was computed. If the log or the routine is newer, the row
is stale, and no look-up returns it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.records.database import Database

SUMMARIES, GLANCES = "summaries", "glances"

_MADE_FROM_ALL = (
    "s.client = c.id AND s.through_seq = (SELECT COALESCE(MAX(seq), 0) FROM events e WHERE e.client = c.id)"
    " AND s.version = (SELECT COALESCE(MAX(version), 0) FROM routine_versions v WHERE v.client = c.id)"
)


@dataclass(frozen=True)
class StoredSummary:
    """A stored summary or glance of a client.

    Attributes:
        client: The client's key.
        through_seq: The number of the last event from which it was computed, 0 for none.
        version: The newest routine version from which it was computed, 0 for none.
        content: JSON, written and read by `sync/caseload/summary.py` or `sync/caseload/glance.py`.
    """

    client: int
    through_seq: int
    version: int
    content: str


def keep(db: Database, summaries: Iterable[StoredSummary], table: str = SUMMARIES) -> None:
    """Store rows of one cache inside a write; they replace earlier rows of the same clients."""
    db.conn.executemany(
        f"INSERT INTO {table} (client, through_seq, version, told) VALUES (?, ?, ?, ?) ON CONFLICT (client) DO UPDATE"
        " SET through_seq = excluded.through_seq, version = excluded.version, told = excluded.told",
        [(summary.client, summary.through_seq, summary.version, summary.content) for summary in summaries],
    )


def of_practitioner(db: Database, practitioner: int, table: str = SUMMARIES) -> dict[int, str | None]:
    """Return the JSON of each current client's row in a cache, by the client's key; None if it is stale or missing.

    The client whose phone synced last comes first.
    """
    return dict(_contents(db, table, "c.practitioner = ?", (practitioner,)))


def of_everybody(db: Database, table: str = SUMMARIES) -> dict[int, str | None]:
    """Return the same for the current clients of all practitioners."""
    return dict(_contents(db, table, "TRUE", ()))


def find(db: Database, client: int, table: str = SUMMARIES) -> str | None:
    """Return the JSON of one client's row in a cache, or None if it is stale or missing."""
    return next((text for _, text in _contents(db, table, "c.id = ?", (client,))), None)


def _contents(db: Database, table: str, where: str, values: tuple[object, ...]) -> list[tuple[int, str | None]]:
    found: list[tuple[int, str | None]] = db.execute(
        f"SELECT c.id, s.told FROM clients c LEFT JOIN {table} s ON {_MADE_FROM_ALL}"
        f" WHERE {where} AND c.ended_at IS NULL"
        " ORDER BY (SELECT MAX(last_sync_at) FROM devices d WHERE d.client = c.id) DESC, c.id",
        values,
    ).fetchall()
    return found


def not_stale(db: Database, table: str = SUMMARIES) -> list[tuple[str, StoredSummary]]:
    """List the rows of a cache that are not stale, of all current clients, each with the client's public id."""
    rows = db.execute(
        "SELECT c.public_id, s.client, s.through_seq, s.version, s.told FROM clients c"
        f" JOIN {table} s ON {_MADE_FROM_ALL} WHERE c.ended_at IS NULL ORDER BY c.id"
    ).fetchall()
    return [(row[0], StoredSummary(*row[1:])) for row in rows]

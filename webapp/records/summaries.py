"""What the caseload shows of each client, worked out when something was written: a cache beside the log.

A summary says from which events and which routine version it was made. Where the log or the routine has gone on since,
it is stale, and no look-up gives it.
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
    """A summary.

    Attributes:
        client: Whose.
        through_seq: The last event of the log that it was made from, 0 for none.
        version: The newest routine version that it was made from, 0 for none.
        told: JSON, made and read by `sync/summary.py`.
    """

    client: int
    through_seq: int
    version: int
    told: str


def keep(db: Database, summaries: Iterable[StoredSummary]) -> None:
    """Store summaries in place of the ones before, inside a write."""
    db.conn.executemany(
        "INSERT INTO summaries (client, through_seq, version, told) VALUES (?, ?, ?, ?) ON CONFLICT (client) DO UPDATE"
        " SET through_seq = excluded.through_seq, version = excluded.version, told = excluded.told",
        [(one.client, one.through_seq, one.version, one.told) for one in summaries],
    )


def of_practitioner(db: Database, practitioner: int) -> dict[int, str | None]:
    """Return the JSON of every current client's summary, by the client's row; None where it is stale or missing.

    The client whose phone was here last comes first.
    """
    return dict(_told(db, "c.practitioner = ?", (practitioner,)))


def of_everybody(db: Database) -> dict[int, str | None]:
    """Return the same of the current clients of every practitioner."""
    return dict(_told(db, "TRUE", ()))


def find(db: Database, client: int) -> str | None:
    """Return the JSON of one client's summary, or None where it is stale or missing."""
    return next((told for _, told in _told(db, "c.id = ?", (client,))), None)


def _told(db: Database, where: str, values: tuple[object, ...]) -> list[tuple[int, str | None]]:
    found: list[tuple[int, str | None]] = db.execute(
        f"SELECT c.id, s.told FROM clients c LEFT JOIN summaries s ON {_MADE_FROM_ALL}"
        f" WHERE {where} AND c.ended_at IS NULL"
        " ORDER BY (SELECT MAX(last_sync_at) FROM devices d WHERE d.client = c.id) DESC, c.id",
        values,
    ).fetchall()
    return found


def not_stale(db: Database) -> list[tuple[str, StoredSummary]]:
    """List the summary of every current client that is not stale, each with the client's public id."""
    rows = db.execute(
        "SELECT c.public_id, s.client, s.through_seq, s.version, s.told FROM clients c"
        f" JOIN summaries s ON {_MADE_FROM_ALL} WHERE c.ended_at IS NULL ORDER BY c.id"
    ).fetchall()
    return [(row[0], StoredSummary(*row[1:])) for row in rows]

"""Ready bundles, stored compressed, one for each client, routine version and language; made again at any time."""

import gzip
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write


@dataclass(frozen=True)
class StoredBundle:
    """A bundle.

    Attributes:
        client, version, locale: Which.
        hash: Of its content.
        entries: JSON: the states besides the start that its almanac was walked from.
        packed: Its JSON, compressed with gzip.
        rows: Which row of its almanac each state has (see `sync/almanac_rows.py`).
    """

    client: int
    version: int
    locale: str
    hash: str
    entries: str
    packed: bytes
    rows: bytes

    @property
    def body(self) -> bytes:
        """The bundle's JSON."""
        return gzip.decompress(self.packed)


def pack(body: bytes) -> bytes:
    """Compress a bundle's JSON; the same bytes for the same JSON."""
    return gzip.compress(body, mtime=0)


def keep(db: Database, bundle: StoredBundle, now: datetime) -> None:
    """Store a bundle in place of the one before."""
    with write(db):
        db.execute(
            "INSERT INTO bundles (client, version, locale, hash, entries, body, rows, made_at)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (client, version, locale) DO UPDATE SET hash = excluded.hash, entries = excluded.entries,"
            " body = excluded.body, rows = excluded.rows, made_at = excluded.made_at",
            (
                bundle.client,
                bundle.version,
                bundle.locale,
                bundle.hash,
                bundle.entries,
                bundle.packed,
                bundle.rows,
                instant(now),
            ),
        )


def find(db: Database, client: int, version: int, locale: str) -> StoredBundle | None:
    """Give a client's bundle for a version and a language, or None where it has not been made."""
    row = db.execute(
        "SELECT client, version, locale, hash, entries, body, rows FROM bundles"
        " WHERE client = ? AND version = ? AND locale = ?",
        (client, version, locale),
    ).fetchone()
    return None if row is None else StoredBundle(*row)

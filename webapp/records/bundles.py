"""A cache of bundles, stored compressed: one for each client, routine version and language."""

import gzip
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write


@dataclass(frozen=True)
class StoredBundle:
    """A stored bundle.

    Attributes:
        client: The client's key.
        version: The routine version.
        locale: The language.
        hash: The hash of the bundle's content.
        entries: JSON: the states, besides the start, from which its almanac was built.
        packed: The bundle's JSON, compressed with gzip.
        rows: For each state the row of the almanac, as bytes (see `sync/bundle/almanac_rows.py`).
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
    """Compress a bundle's JSON; the same JSON always gives the same bytes."""
    return gzip.compress(body, mtime=0)


def keep(db: Database, bundle: StoredBundle, now: datetime) -> None:
    """Store a bundle; it replaces an earlier bundle of the same client, version and language."""
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
    """Return a client's bundle for a version and a language, or None if it is not in the cache."""
    row = db.execute(
        "SELECT client, version, locale, hash, entries, body, rows FROM bundles"
        " WHERE client = ? AND version = ? AND locale = ?",
        (client, version, locale),
    ).fetchone()
    return None if row is None else StoredBundle(*row)

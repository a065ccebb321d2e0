"""Calendars that clients follow by a secret address: one for each client. The secret is stored only as a hash."""

import hashlib
import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write

KEY_BYTES = 24


@dataclass(frozen=True)
class Feed:
    """A stored calendar.

    Attributes:
        client: The client's key.
        public_id: The client's id.
        locale: The client's language.
        times: Local times such as 07:30, by the name of the reminder.
        sequence: How often the times were changed.
        changed_at: When they were changed last, as UTC text.
    """

    client: int
    public_id: str
    locale: str
    times: Mapping[str, str]
    sequence: int
    changed_at: str


def keep(db: Database, client: int, key: str, times: Mapping[str, str], now: datetime) -> str:
    """Store a client's times, and return the key of their address.

    A key that is this client's stays, and so does the address. With any other key the client gets a new one, and an earlier
    address ends.
    """
    with write(db):
        rows = db.execute("SELECT hash, sequence FROM feeds WHERE client = ?", (client,)).fetchall()
        [(known, sequence)] = rows or [("", -1)]
        kept = key if known and _hash(key) == known else secrets.token_urlsafe(KEY_BYTES)
        db.execute(
            "INSERT OR REPLACE INTO feeds (client, hash, times, sequence, changed_at) VALUES (?, ?, ?, ?, ?)",
            (client, _hash(kept), json.dumps(dict(times)), sequence + 1, instant(now)),
        )
    return kept


def end(db: Database, client: int, key: str) -> None:
    """End the address with this key, if it is this client's; the address of another of the client's phones stays."""
    with write(db):
        db.execute("DELETE FROM feeds WHERE client = ? AND hash = ?", (client, _hash(key)))


def end_without_phone(db: Database, client: int) -> None:
    """End a client's address, inside a write, if the client has no phone any more: nobody else could end it."""
    db.execute(
        "DELETE FROM feeds WHERE client = ?"
        " AND NOT EXISTS (SELECT 1 FROM devices d WHERE d.client = feeds.client AND d.revoked_at IS NULL)",
        (client,),
    )


def find(db: Database, key: str) -> Feed | None:
    """Return the calendar at an address, or None; an ended client has none."""
    found = db.execute(
        "SELECT clients.id, clients.public_id, clients.locale, times, sequence, changed_at FROM feeds"
        " JOIN clients ON clients.id = feeds.client WHERE hash = ? AND clients.ended_at IS NULL",
        (_hash(key),),
    ).fetchone()
    if found is None:
        return None
    client, public_id, locale, times, sequence, changed_at = found
    return Feed(client, public_id, locale, json.loads(times), sequence, changed_at)


def _hash(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()

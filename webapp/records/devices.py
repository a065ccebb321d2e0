"""Phones that have joined: each belongs to one client and carries one secret token, stored as a hash.

A token leads to its client and to nobody else; every later look-up is keyed by that client.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write

TOKEN_BYTES = 32
ID_BYTES = 12


@dataclass(frozen=True)
class Device:
    """A joined phone; instants are UTC text."""

    id: str
    name: str
    joined_at: str
    seen_at: str
    last_sync_at: str | None


@dataclass(frozen=True)
class Bearer:
    """Who stands behind a token: the phone, and the client that it speaks for."""

    device: Device
    client: int
    client_id: str
    client_name: str
    locale: str


_COLUMNS = "d.id, d.name, d.joined_at, d.seen_at, d.last_sync_at"


def join(db: Database, client: int, name: str, now: datetime) -> tuple[str, str]:
    """Add a phone to a client, inside a write.

    Returns:
        The phone's id, and its token, which is stored nowhere else.
    """
    device, token = secrets.token_hex(ID_BYTES), secrets.token_urlsafe(TOKEN_BYTES)
    db.execute(
        "INSERT INTO devices (id, client, token_hash, name, joined_at, seen_at) VALUES (?, ?, ?, ?, ?, ?)",
        (device, client, _digest(token), name, instant(now), instant(now)),
    )
    return device, token


def bearer_of(db: Database, token: str, seen_after: datetime, joined_after: datetime) -> Bearer | None:
    """Find who a token stands for: None once it is revoked, idle too long, too old, or the client has ended."""
    row = db.execute(
        f"SELECT {_COLUMNS}, c.id, c.public_id, c.name, c.locale FROM devices d JOIN clients c ON c.id = d.client"
        " WHERE d.token_hash = ? AND d.revoked_at IS NULL AND c.ended_at IS NULL"
        " AND d.seen_at > ? AND d.joined_at > ?",
        (_digest(token), instant(seen_after), instant(joined_after)),
    ).fetchone()
    return None if row is None else Bearer(Device(*row[:5]), *row[5:])


def of_client(db: Database, client: int) -> list[Device]:
    """List a client's joined phones, newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM devices d WHERE d.client = ? AND d.revoked_at IS NULL ORDER BY d.joined_at DESC, d.id",
        (client,),
    ).fetchall()
    return [Device(*row) for row in rows]


def note_seen(db: Database, device: str, now: datetime) -> None:
    """Note that a phone has been here."""
    with write(db):
        db.execute("UPDATE devices SET seen_at = ? WHERE id = ?", (instant(now), device))


def note_sync(db: Database, device: str, cursor: int, now: datetime) -> None:
    """Note that a phone has synced, and how far it had read, inside a write."""
    db.execute(
        "UPDATE devices SET seen_at = ?, last_sync_at = ?, cursor = ? WHERE id = ?",
        (instant(now), instant(now), cursor, device),
    )


def is_noted(db: Database, device: str, cursor: int, since: datetime) -> bool:
    """Say whether a sync of a phone after an instant is on record, with at least as much read."""
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM devices WHERE id = ? AND last_sync_at > ? AND cursor >= ?)",
        (device, instant(since), cursor),
    ).fetchone()
    return bool(row[0])


def revoke(db: Database, client: int, device: str, now: datetime) -> None:
    """Close the door to one phone of this client; its unsent entries stay on it."""
    with write(db):
        db.execute(
            "UPDATE devices SET revoked_at = ? WHERE id = ? AND client = ? AND revoked_at IS NULL",
            (instant(now), device, client),
        )


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()

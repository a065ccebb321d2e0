"""Phones that have joined: each phone belongs to one client and has one secret token, stored as a hash.

A token stands for its own client only. Every later look-up names that client.
"""

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime

from webapp.records import acts, events, feeds
from webapp.records.database import Database, instant, write

TOKEN_BYTES = 32
ID_BYTES = 12


@dataclass(frozen=True)
class Device:
    """A joined phone; instants are UTC text.

    `to_confirm` is 1 after a restore from a copy, if the phone may have been revoked after the copy was made. Such a phone
    is refused until the practitioner confirms it.
    """

    id: str
    name: str
    joined_at: str
    seen_at: str
    last_sync_at: str | None
    to_confirm: int
    agreed: str


@dataclass(frozen=True)
class Bearer:
    """The phone and the client that a token stands for."""

    device: Device
    client: int
    client_id: str
    client_name: str
    locale: str


_COLUMNS = "d.id, d.name, d.joined_at, d.seen_at, d.last_sync_at, d.to_confirm, d.agreed"


def join(db: Database, client: int, name: str, now: datetime, agreed: str = "") -> tuple[str, str]:
    """Add a phone to a client, inside a write; `agreed` is the hash of the words that the client agreed to.

    Returns:
        The phone's id, and its token. The server stores only a hash of the token.
    """
    device, token = secrets.token_hex(ID_BYTES), secrets.token_urlsafe(TOKEN_BYTES)
    db.execute(
        "INSERT INTO devices (id, client, token_hash, name, joined_at, seen_at, cursor, agreed)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (device, client, _digest(token), name, instant(now), instant(now), events.newest_seq(db, client), agreed),
    )
    return device, token


def bearer_of(db: Database, token: str, seen_after: datetime, joined_after: datetime) -> Bearer | None:
    """Return the phone and the client that a token stands for.

    None if the phone is revoked, was not seen since `seen_after` or joined before `joined_after`, or the client has ended.
    """
    row = db.execute(
        f"SELECT {_COLUMNS}, c.id, c.public_id, c.name, c.locale FROM devices d JOIN clients c ON c.id = d.client"
        " WHERE d.token_hash = ? AND d.revoked_at IS NULL AND c.ended_at IS NULL"
        " AND d.seen_at > ? AND d.joined_at > ?",
        (_digest(token), instant(seen_after), instant(joined_after)),
    ).fetchone()
    return None if row is None else Bearer(Device(*row[:7]), *row[7:])


def of_client(db: Database, client: int) -> list[Device]:
    """List a client's joined phones, the newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM devices d WHERE d.client = ? AND d.revoked_at IS NULL ORDER BY d.joined_at DESC, d.id",
        (client,),
    ).fetchall()
    return [Device(*row) for row in rows]


def note_seen(db: Database, device: str, now: datetime) -> None:
    """Store the instant at which a phone was last seen."""
    with write(db):
        db.execute("UPDATE devices SET seen_at = ? WHERE id = ?", (instant(now), device))


def note_sync(db: Database, device: str, seq: int, now: datetime) -> None:
    """Store, inside a write, that a phone syncs, and the highest event number that the answer may send it."""
    db.execute(
        "UPDATE devices SET seen_at = ?, last_sync_at = ?, cursor = MAX(cursor, ?) WHERE id = ?",
        (instant(now), instant(now), seq, device),
    )


def is_noted(db: Database, device: str, cursor: int, since: datetime) -> bool:
    """Whether a sync of a phone after an instant is stored, with a cursor at least as high."""
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM devices WHERE id = ? AND last_sync_at > ? AND cursor >= ?)",
        (device, instant(since), cursor),
    ).fetchone()
    return bool(row[0])


def furthest_sent(db: Database, device: str) -> int | None:
    """Return the highest event number that this database can have sent to a phone, or None for an unknown phone.

    A phone with a higher cursor got its events from another database.
    """
    row = db.execute("SELECT cursor FROM devices WHERE id = ?", (device,)).fetchone()
    return None if row is None else int(row[0])


def revoke(db: Database, client: int, device: str, now: datetime) -> None:
    """Revoke one phone of this client; its unsent events stay on the phone. With the last phone the calendar's address ends."""
    with write(db):
        row = db.execute(
            "UPDATE devices SET revoked_at = ? WHERE id = ? AND client = ? AND revoked_at IS NULL RETURNING id",
            (instant(now), device, client),
        ).fetchone()
        if row:
            acts.note(db, acts.PHONE_REVOKED, device)
            feeds.end_without_phone(db, client)


def name_of_revoked(db: Database, client: int, device: str) -> str | None:
    """Return the name of a phone of this client that is revoked; None for any other."""
    row = db.execute(
        "SELECT name FROM devices WHERE id = ? AND client = ? AND revoked_at IS NOT NULL", (device, client)
    ).fetchone()
    return None if row is None else str(row[0])


def confirm(db: Database, client: int, device: str) -> None:
    """Confirm a phone of this client that has waited since a restore; from now on it may sync again. Twice changes nothing."""
    with write(db):
        db.execute("UPDATE devices SET to_confirm = 0 WHERE id = ? AND client = ? AND to_confirm", (device, client))


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()

"""The log of each client: appended to, read, and never changed.

`seq` counts a client's events in the order in which they were stored; it is the phones' cursor.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from webapp.records.database import Database, instant


@dataclass(frozen=True)
class NewEvent:
    """An event to be stored.

    Attributes:
        id, on_day, kind, device_seq: Read from it.
        raw: Its JSON as it was sent.
        hash: Of its content, however the JSON was written.
    """

    id: str
    on_day: str
    kind: str
    device_seq: int
    raw: str
    hash: str


@dataclass(frozen=True)
class LoggedEvent:
    """A stored event; `raw` is its JSON as it was sent, `received_at` UTC text."""

    seq: int
    id: str
    on_day: str
    kind: str
    device: str
    raw: str
    received_at: str


@dataclass(frozen=True)
class RefusedEvent:
    """An event that was not stored, kept aside so that nothing is lost; the message is for upkeep."""

    id: str
    hash: str
    raw: str
    code: str
    message: str


class Amount(NamedTuple):
    """How much a phone sent: entries, and their bytes."""

    entries: int
    size: int


_COLUMNS = "seq, id, on_day, kind, device, raw, received_at"


def newest_seq(db: Database, client: int) -> int:
    """Give the number of a client's last stored event, 0 for none."""
    return int(db.execute("SELECT COALESCE(MAX(seq), 0) FROM events WHERE client = ?", (client,)).fetchone()[0])


def hashes_of(db: Database, client: int, ids: Sequence[str]) -> dict[str, str]:
    """Give the hash of each of these events that the client's log holds."""
    rows = db.execute(
        "SELECT id, hash FROM events WHERE client = ? AND id IN (SELECT value FROM json_each(?))",
        (client, json.dumps(ids)),
    ).fetchall()
    return dict(rows)


def append(db: Database, client: int, device: str, events: Sequence[NewEvent], now: datetime) -> None:
    """Store events at the end of a client's log, inside a write; one whose id is there already is passed over."""
    first = newest_seq(db, client) + 1
    db.conn.executemany(
        "INSERT INTO events (client, seq, id, on_day, kind, device, device_seq, raw, hash, received_at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (client, id) DO NOTHING",
        [
            (client, seq, one.id, one.on_day, one.kind, device, one.device_seq, one.raw, one.hash, instant(now))
            for seq, one in enumerate(events, first)
        ],
    )


def set_aside(db: Database, client: int, device: str, refused: Iterable[RefusedEvent], now: datetime) -> None:
    """Keep refused events, inside a write; the same one twice is kept once."""
    db.conn.executemany(
        "INSERT INTO quarantine (client, id, hash, device, raw, code, message, received_at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
        [(client, one.id, one.hash, device, one.raw, one.code, one.message, instant(now)) for one in refused],
    )


def set_aside_among(db: Database, client: int, refused: Iterable[RefusedEvent]) -> set[tuple[str, str]]:
    """Return the id and the hash of those refused events that are kept aside already."""
    rows = db.execute(
        "SELECT id, hash FROM quarantine WHERE client = ? AND (id, hash) IN"
        " (SELECT json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(?))",
        (client, json.dumps([(one.id, one.hash) for one in refused])),
    ).fetchall()
    return set(rows)


def taken_since(db: Database, device: str, since: str) -> Amount:
    """Sum up what was stored of a phone's since an instant, UTC text."""
    return _amount(db, "events", "raw", device, since)


def set_aside_since(db: Database, device: str, since: str) -> Amount:
    """Sum up what was set aside of a phone's since an instant, UTC text, its ids among the bytes."""
    return _amount(db, "quarantine", "raw || id", device, since)


def _amount(db: Database, table: str, text: str, device: str, since: str) -> Amount:
    row = db.execute(
        f"SELECT COUNT(*), COALESCE(SUM(LENGTH(CAST({text} AS BLOB))), 0) FROM {table}"
        " WHERE device = ? AND received_at >= ?",
        (device, since),
    ).fetchone()
    return Amount(*row)


def set_aside_of(db: Database, client: int) -> list[RefusedEvent]:
    """List what was refused of a client's, oldest first."""
    rows = db.execute(
        "SELECT id, hash, raw, code, message FROM quarantine WHERE client = ? ORDER BY rowid", (client,)
    ).fetchall()
    return [RefusedEvent(*row) for row in rows]


def of_client(db: Database, client: int, after: int = 0, limit: int = -1) -> list[LoggedEvent]:
    """List a client's events after a cursor, in the order stored; at most `limit`, or all for -1."""
    return _read(db, "client = ? AND seq > ? ORDER BY seq LIMIT ?", (client, after, limit))


def newest_but_of(db: Database, client: int, device: str, among: int) -> LoggedEvent | None:
    """Return the newest of a client's last `among` events that this device did not write, or None."""
    first = newest_seq(db, client) - among
    found = _read(db, "client = ? AND seq > ? AND device != ? ORDER BY seq DESC LIMIT 1", (client, first, device))
    return found[0] if found else None


def with_hashes(db: Database, client: int) -> list[tuple[LoggedEvent, str]]:
    """List a client's events, each with the hash of its content that was kept when it came."""
    rows = db.execute(f"SELECT {_COLUMNS}, hash FROM events WHERE client = ? ORDER BY seq", (client,)).fetchall()
    return [(LoggedEvent(*row[:-1]), row[-1]) for row in rows]


def since_day(db: Database, client: int, day: str) -> list[LoggedEvent]:
    """List a client's events of a day and after, and every correction, in the order stored."""
    return _read(db, "client = ? AND (on_day >= ? OR kind = 'entry_corrected') ORDER BY seq", (client, day))


def of_kind(db: Database, client: int, kind: str) -> list[LoggedEvent]:
    """List a client's events of a kind, in the order stored."""
    return _read(db, "client = ? AND kind = ? ORDER BY seq", (client, kind))


def latest_of(db: Database, client: int, kinds: Sequence[str], limit: int) -> list[LoggedEvent]:
    """List a client's last events of these kinds, by day, newest first."""
    return _read(
        db,
        "client = ? AND kind IN (SELECT value FROM json_each(?)) ORDER BY on_day DESC, seq DESC LIMIT ?",
        (client, json.dumps(kinds), limit),
    )


def is_any_late(db: Database, client: int, after: int, day: str) -> bool:
    """Say whether an event stored after a cursor reaches back to a day or before it.

    A correction or a routine received counts as reaching back, wherever it stands.
    """
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM events WHERE client = ? AND seq > ?"
        " AND (on_day <= ? OR kind IN ('entry_corrected', 'routine_received')))",
        (client, after, day),
    ).fetchone()
    return bool(row[0])


def is_any_since(db: Database, client: int, kind: str, day: str) -> bool:
    """Say whether a client's log holds an event of this kind on a day or after it."""
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM events WHERE client = ? AND on_day >= ? AND kind = ?)", (client, day, kind)
    ).fetchone()
    return bool(row[0])


def _read(db: Database, where: str, values: tuple[object, ...]) -> list[LoggedEvent]:
    rows = db.execute(f"SELECT {_COLUMNS} FROM events WHERE {where}", values).fetchall()
    return [LoggedEvent(*row) for row in rows]

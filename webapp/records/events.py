"""The log of each client. Events are appended and read, never changed.

`seq` numbers a client's events in the order in which they were stored. It is the cursor of the phones.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, StorageError, instant, is_not_text


class EntryNotTextError(ValueError):
    """The bytes of a stored entry were damaged, and are no text any more."""


@dataclass(frozen=True)
class NewEvent:
    """An event that is not stored yet.

    Attributes:
        id: The event's id.
        on_day: The event's local day, as ISO text.
        kind: The event's kind.
        device_seq: The phone's own number of the event.
        raw: The event's JSON as it was sent.
        hash: The hash of the event's content; it does not depend on how the JSON was written.
    """

    id: str
    on_day: str
    kind: str
    device_seq: int
    raw: str
    hash: str


@dataclass(frozen=True)
class LoggedEvent:
    """A stored event; `raw` is its JSON as it was sent, `received_at` is UTC text."""

    seq: int
    id: str
    on_day: str
    kind: str
    device: str
    raw: str
    received_at: str


@dataclass(frozen=True)
class RefusedEvent:
    """A refused event, kept aside so that nothing is lost; the message is for the operator."""

    id: str
    hash: str
    raw: str
    code: str
    message: str


OFTEN = ("session_finished", "morning_reported", "exposure_noted", "habit_noted")
"""The kinds that come nearly every day. The index `events_seldom` leaves them out, with these words in this order."""
_COLUMNS = "seq, id, on_day, kind, device, raw, received_at"


def newest_seq(db: Database, client: int) -> int:
    """Return the number of a client's last stored event, 0 if there is none."""
    return int(db.execute("SELECT COALESCE(MAX(seq), 0) FROM events WHERE client = ?", (client,)).fetchone()[0])


def hashes_of(db: Database, client: int, ids: Sequence[str]) -> dict[str, str]:
    """Return the hashes, by id, of those events that the client's log holds."""
    rows = db.execute(
        "SELECT id, hash FROM events WHERE client = ? AND id IN (SELECT value FROM json_each(?))",
        (client, json.dumps(ids)),
    ).fetchall()
    return dict(rows)


def append(db: Database, client: int, device: str, events: Sequence[NewEvent], now: datetime) -> None:
    """Append events to a client's log, inside a write; an event whose id is in the log already is skipped."""
    first = newest_seq(db, client) + 1
    db.conn.executemany(
        "INSERT INTO events (client, seq, id, on_day, kind, device, device_seq, raw, hash, received_at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (client, id) DO NOTHING",
        [
            (
                client,
                seq,
                event.id,
                event.on_day,
                event.kind,
                device,
                event.device_seq,
                event.raw,
                event.hash,
                instant(now),
            )
            for seq, event in enumerate(events, first)
        ],
    )


def set_aside(db: Database, client: int, device: str, refused: Iterable[RefusedEvent], now: datetime) -> None:
    """Store refused events, inside a write; the same refused event is stored only once."""
    db.conn.executemany(
        "INSERT INTO quarantine (client, id, hash, device, raw, code, message, received_at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING",
        [
            (client, event.id, event.hash, device, event.raw, event.code, event.message, instant(now))
            for event in refused
        ],
    )


def set_aside_among(db: Database, client: int, refused: Iterable[RefusedEvent]) -> set[tuple[str, str]]:
    """Return the (id, hash) pairs of those refused events that are stored already."""
    rows = db.execute(
        "SELECT id, hash FROM quarantine WHERE client = ? AND (id, hash) IN"
        " (SELECT json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(?))",
        (client, json.dumps([(event.id, event.hash) for event in refused])),
    ).fetchall()
    return set(rows)


def set_aside_of(db: Database, client: int) -> list[RefusedEvent]:
    """List a client's refused events, the oldest first."""
    rows = db.execute(
        "SELECT id, hash, raw, code, message FROM quarantine WHERE client = ? ORDER BY rowid", (client,)
    ).fetchall()
    return [RefusedEvent(*row) for row in rows]


def of_client(db: Database, client: int, after: int = 0, limit: int = -1) -> list[LoggedEvent]:
    """List a client's events after a cursor, in stored order; at most `limit`, or all for -1."""
    return _read(db, "client = ? AND seq > ? ORDER BY seq LIMIT ?", (client, after, limit))


def newest_but_of(db: Database, client: int, device: str, among: int) -> LoggedEvent | None:
    """Return the newest event, among a client's last `among` events, that another device wrote, or None."""
    first = newest_seq(db, client) - among
    found = _read(db, "client = ? AND seq > ? AND device != ? ORDER BY seq DESC LIMIT 1", (client, first, device))
    return found[0] if found else None


def with_hashes(db: Database, client: int) -> list[tuple[str, bytes, str]]:
    """List a client's events: the id, the bytes of the event's JSON, and the hash that was stored when the event came."""
    return db.execute(
        "SELECT id, CAST(raw AS BLOB), hash FROM events WHERE client = ? ORDER BY seq", (client,)
    ).fetchall()


def since_day(db: Database, client: int, day: str) -> list[LoggedEvent]:
    """List a client's events of a day and later days, and all corrections, in stored order."""
    found = _read(db, "client = ? AND on_day >= ?", (client, day))
    fixes = [each for each in of_kind(db, client, "entry_corrected") if each.on_day < day]
    return sorted([*found, *fixes], key=lambda each: each.seq)


def of_kind(db: Database, client: int, kind: str) -> list[LoggedEvent]:
    """List a client's events of a kind, in stored order."""
    return _of_kinds(db, client, (kind,), "seq", -1)


def latest_of(db: Database, client: int, kinds: Sequence[str], limit: int) -> list[LoggedEvent]:
    """List a client's last events of these kinds, the newest day first."""
    return _of_kinds(db, client, kinds, "on_day DESC, seq DESC", limit)


def _of_kinds(db: Database, client: int, kinds: Sequence[str], order: str, limit: int) -> list[LoggedEvent]:
    # Without the name of the index SQLite reads the whole log; with it, only the few entries of these kinds.
    is_seldom = not set(kinds) & set(OFTEN)
    source, often = ("events INDEXED BY events_seldom", f" AND kind NOT IN {OFTEN}") if is_seldom else ("events", "")
    where = f"client = ? AND kind IN (SELECT value FROM json_each(?)){often} ORDER BY {order} LIMIT ?"
    return _read(db, where, (client, json.dumps(kinds), limit), source)


def of_screening(db: Database, client: int) -> list[LoggedEvent]:
    """List a client's entries of the screening and, where there are some, all corrections, in stored order."""
    found = _of_kinds(db, client, ("screening_answered", "screening_cleared"), "seq", -1)
    return found + of_kind(db, client, "entry_corrected") if found else []


def corrected(db: Database, client: int) -> list[LoggedEvent]:
    """List a client's corrections and the entries that they name; all others are left out."""
    fixes = of_kind(db, client, "entry_corrected")
    if not fixes:
        return []
    named = "(SELECT json_extract(value, '$.body.replaces') FROM json_each(?))"
    raws = json.dumps([fix.raw for fix in fixes])
    return fixes + _read(db, f"client = ? AND kind <> 'entry_corrected' AND id IN {named}", (client, raws))


def last_day(db: Database, client: int, until: str) -> str | None:
    """Return the last day, up to a day, about which a client's log holds an event; None for an empty log."""
    row = db.execute("SELECT MAX(on_day) FROM events WHERE client = ? AND on_day <= ?", (client, until)).fetchone()
    return None if row[0] is None else str(row[0])


def is_any_of(db: Database, client: int, kind: str) -> bool:
    """Whether a client's log holds an event of a kind."""
    row = db.execute("SELECT EXISTS (SELECT 1 FROM events WHERE client = ? AND kind = ?)", (client, kind)).fetchone()
    return bool(row[0])


def is_any_late(db: Database, client: int, after: int, day: str) -> bool:
    """Whether an event stored after a cursor is about a day, or about an earlier day.

    A correction and a `routine_received` always count, whatever their day.
    """
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM events WHERE client = ? AND seq > ?"
        " AND (on_day <= ? OR kind IN ('entry_corrected', 'routine_received')))",
        (client, after, day),
    ).fetchone()
    return bool(row[0])


def is_any_since(db: Database, client: int, kind: str, day: str) -> bool:
    """Whether a client's log holds an event of a kind on a day or later."""
    row = db.execute(
        "SELECT EXISTS (SELECT 1 FROM events WHERE client = ? AND on_day >= ? AND kind = ?)", (client, day, kind)
    ).fetchone()
    return bool(row[0])


def _read(db: Database, where: str, values: tuple[object, ...], source: str = "events") -> list[LoggedEvent]:
    try:
        rows = db.execute(f"SELECT {_COLUMNS} FROM {source} WHERE {where}", values).fetchall()
    except StorageError as error:
        if is_not_text(error):
            raise EntryNotTextError(str(error)) from error
        raise
    return [LoggedEvent(*row) for row in rows]

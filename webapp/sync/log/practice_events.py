"""Events that the practice writes into a client's log: releases of a hold, letters.

They are stored like the events of a phone, so every phone of the client gets them in its next sync.
"""

import secrets
from datetime import date, datetime, timedelta
from typing import Any

import msgspec

from webapp.events.codec import check_body
from webapp.records import events
from webapp.records.database import Database, instant
from webapp.records.events import NewEvent
from webapp.sync.log.take import content_hash

DEVICE = "practice"
ZONE = "UTC"
_RANDOM_BITS = 74
_A_BITS = 12
_B_BITS = 62


def uuid7(now: datetime, randomness: int) -> str:
    """Write a UUID of version 7: 48 bits of milliseconds, then 74 bits of randomness (RFC 9562)."""
    milliseconds = (now - datetime(1970, 1, 1, tzinfo=now.tzinfo)) // timedelta(milliseconds=1)
    head = (milliseconds << 16) | (0x7 << 12) | (randomness >> _B_BITS) % (1 << _A_BITS)
    tail = (0b10 << _B_BITS) | randomness % (1 << _B_BITS)
    digits = f"{head:016x}{tail:016x}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))


def new_id(now: datetime) -> str:
    """Return a new id for an event."""
    return uuid7(now, secrets.randbits(_RANDOM_BITS))


def put(db: Database, client: int, kind: str, on: date, body: dict[str, Any], now: datetime, event_id: str = "") -> str:
    """Store an event of the practice, inside a write.

    Args:
        db: The records.
        client: The client's key.
        kind: The event's kind, such as hold_released or letter_answered.
        on: The client's local day that the event is about.
        body: The body of the kind.
        now: The instant of the call, in UTC.
        event_id: The event's id, from `new_id`; without it the event gets a new one.

    Returns:
        The event's id.

    Raises:
        EventError: The body does not fit the kind.
    """
    check_body(kind, body)
    event_id = event_id or new_id(now)
    seq = events.newest_seq(db, client) + 1
    event = {
        "id": event_id,
        "kind": kind,
        "v": 1,
        "on": on.isoformat(),
        "at": instant(now),
        "zone": ZONE,
        "seq": seq,
        "body": body,
    }
    raw = msgspec.json.encode(event).decode()
    events.append(db, client, DEVICE, [NewEvent(event_id, on.isoformat(), kind, seq, raw, content_hash(event))], now)
    return event_id

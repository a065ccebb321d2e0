"""Events that the practice side writes into a client's log: releases of a hold, letters.

They take the same way as a phone's, so every phone of the client hears of them in its next sync.
"""

import hashlib
import secrets
from collections.abc import Collection, Iterable
from datetime import date, datetime, timedelta
from typing import Any

import msgspec

from webapp.dosing.course import is_sharp
from webapp.events.codec import check_body
from webapp.records import events
from webapp.records.database import Database, instant, write
from webapp.records.events import NewEvent
from webapp.sync.diary import entries_of, of_phones
from webapp.sync.facts import sharp_entries
from webapp.sync.fold import ONE_DAY, ArmAccount
from webapp.sync.take import content_hash

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


def record(db: Database, client: int, kind: str, on: date, body: dict[str, Any], now: datetime) -> str:
    """Put an event of the practice on record.

    Args:
        db: The records.
        client: Whose log.
        kind: hold_released, letter_written, or another.
        on: The client's local day that it is for.
        body: As the kind has it.
        now: The instant of the call, in UTC.

    Returns:
        The event's id.

    Raises:
        EventError: The body does not fit the kind.
    """
    check_body(kind, body)
    event_id = uuid7(now, secrets.randbits(_RANDOM_BITS))
    with write(db):
        seq = events.newest_seq(db, client) + 1
        told = {
            "id": event_id,
            "kind": kind,
            "v": 1,
            "on": on.isoformat(),
            "at": instant(now),
            "zone": ZONE,
            "seq": seq,
            "body": body,
        }
        raw = msgspec.json.encode(told).decode()
        events.append(db, client, DEVICE, [NewEvent(event_id, on.isoformat(), kind, seq, raw, content_hash(told))], now)
    return event_id


def sharp_of(db: Database, client: int, arm: str) -> dict[str, date]:
    """List the sharp entries of one arm that the log holds now: the id of each, and the day it speaks of."""
    return sharp_entries(of_phones(entries_of(events.of_client(db, client)))).get(arm, {})


def seal(entries: Iterable[str]) -> str:
    """Give a short word that tells one set of entries from another, so that a page can say what it showed."""
    return hashlib.sha256(" ".join(sorted(entries)).encode()).hexdigest()[:16]


def release_on(account: ArmAccount, today: date) -> date:
    """Give the first day on which a release counts: after the last sharp day, and not before today.

    A sharp day further off than tomorrow is of a clock that stood ahead, and is not waited for.
    """
    sharp = [on for on, facts in account.facts.items() if on <= today + ONE_DAY and is_sharp(facts)]
    return max([today, *(on + ONE_DAY for on in sharp)])


def release(db: Database, client: int, arm: str, rung: int, covers: Collection[str], on: date, now: datetime) -> str:
    """End the hold of one arm at the start of a day, at a rung that the practitioner chose.

    Args:
        db: The records.
        client: Whose.
        arm: "right" or "left".
        rung: 1 at the bottom; above the top it counts as the top.
        covers: Ids of the sharp entries that the practitioner knew of; any other about a day before `on` keeps the hold.
        on: See `release_on`.
        now: The instant of the call, in UTC.

    Returns:
        The event's id.
    """
    return record(db, client, "hold_released", on, {"arms": {arm: {"rung": rung, "covers": sorted(covers)}}}, now)

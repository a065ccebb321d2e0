"""Taking a batch of events: each is judged for itself, what is good is stored in one transaction.

A batch sent twice, in pieces or out of order ends in the same log. Nothing is dropped: what is
refused is set aside, as far as there is room for a phone's (`bounds`), and it stays on the phone.
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import msgspec

from webapp.events.codec import decode
from webapp.events.kinds import FIRST_DAY, LAST_DAY, PRACTICE_KINDS, Event, EventError
from webapp.records import devices, events, routines
from webapp.records.database import Database, write
from webapp.records.events import NewEvent, RefusedEvent
from webapp.sync import bounds
from webapp.wire.sync import Status

MOST_BYTES = 32_768
VALUE_SHOWN = 80


@dataclass(frozen=True)
class Result:
    """What became of one event.

    Attributes:
        id: Its id, or "" where it has none.
        status: "stored", "duplicate", "conflict" or "rejected".
        code: Why it was refused, or "".
        told: field, value and rule of the fault, as far as there are any.
    """

    id: str
    status: Status
    code: str = ""
    told: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True)
class _Judged:
    """One event of a batch, before the log is looked at: `event` is None where it was refused."""

    id: str
    raw: str
    hash: str
    event: Event | None = None
    code: str = ""
    told: dict[str, object] = field(default_factory=dict)


def take_batch(db: Database, client: int, device: str, raws: Sequence[bytes], now: datetime) -> list[Result]:
    """Take events from a phone in a write of its own; the arguments are those of `take`."""
    with write(db):
        return take(db, client, device, raws, now)


def take(db: Database, client: int, device: str, raws: Sequence[bytes], now: datetime) -> list[Result]:
    """Take events from a phone, inside a write.

    Args:
        db: The records.
        client: Whose log; the one behind the phone's token, never one named in the batch.
        device: The phone.
        raws: The JSON of each event.
        now: The instant of the call, with a zone.

    Returns:
        One result for each event, in the order given.

    Raises:
        TooMuchError: The phone has sent too much today; nothing was stored.
    """
    judged = [_judge(raw) for raw in raws]
    results, fresh = _compare(judged, events.hashes_of(db, client, [one.id for one in judged if one.event]))
    new = [_stored_form(one, one.event) for one in fresh if one.event]
    bounds.check_room(db, device, new, now)
    events.append(db, client, device, new, now)
    refused = _refused(judged, results)
    kept = bounds.with_room(db, client, device, list(refused.values()), now)
    events.set_aside(db, client, device, kept, now)
    results = _told_of_room(results, refused, kept)
    _note_receipts(db, client, fresh, now)
    devices.note_sync(db, device, events.newest_seq(db, client), now)
    return results


def _judge(raw: bytes) -> _Judged:
    text = raw.decode("utf-8", "replace")
    plain = hashlib.sha256(raw).hexdigest()
    if len(raw) > MOST_BYTES:
        return _Judged(
            "", text[:MOST_BYTES], plain, code="event_too_large", told={"value": len(raw), "most": MOST_BYTES}
        )
    try:
        told = msgspec.json.decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return _Judged("", text, plain, code="not_an_object")
    event_id = told.get("id") if isinstance(told, dict) else None
    found = _Judged(event_id if isinstance(event_id, str) else "", text, content_hash(told))
    return _check(found, told)


def _check(found: _Judged, told: Any) -> _Judged:
    try:
        event = decode(told)
        _check_bounds(event)
    except EventError as error:
        shown: dict[str, object] = {"field": error.field, "value": _shown(error.value), "rule": error.rule}
        return _marked(found, error.code, shown)
    if event.kind in PRACTICE_KINDS:
        return _marked(found, "not_from_a_phone", {"field": "kind", "value": event.kind})
    return _Judged(found.id, found.raw, found.hash, event)


def _marked(found: _Judged, code: str, told: dict[str, object]) -> _Judged:
    return _Judged(found.id, found.raw, found.hash, None, code, told)


def _check_bounds(event: Event) -> None:
    if not FIRST_DAY <= event.on <= LAST_DAY:
        raise EventError("not_in_range", "on", event.on.isoformat(), f"a day from {FIRST_DAY} to {LAST_DAY}")


def _compare(judged: Sequence[_Judged], known: dict[str, str]) -> tuple[list[Result], list[_Judged]]:
    """Set each event beside what the log holds, and beside those before it in the batch."""
    held, results, fresh = dict(known), [], []
    for one in judged:
        if one.event is None:
            results.append(Result(one.id, "rejected", one.code, one.told))
        elif one.id not in held:
            held[one.id] = one.hash
            fresh.append(one)
            results.append(Result(one.id, "stored"))
        elif held[one.id] == one.hash:
            results.append(Result(one.id, "duplicate"))
        else:
            results.append(Result(one.id, "conflict", "same_id_other_content"))
    return results, fresh


def _refused(judged: Sequence[_Judged], results: Sequence[Result]) -> dict[int, RefusedEvent]:
    """Return what is refused, by its place in the batch."""
    return {
        place: RefusedEvent(one.id, one.hash, one.raw, result.code, msgspec.json.encode(result.told).decode())
        for place, (one, result) in enumerate(zip(judged, results, strict=True))
        if result.status in ("conflict", "rejected")
    }


def _told_of_room(
    results: Sequence[Result], refused: Mapping[int, RefusedEvent], kept: Sequence[RefusedEvent]
) -> list[Result]:
    """Say of what was refused and not kept here that only the phone has it."""
    held = {(one.id, one.hash) for one in kept}
    lost = {place for place, one in refused.items() if (one.id, one.hash) not in held}
    return [
        Result(one.id, one.status, "refused_not_kept") if place in lost else one for place, one in enumerate(results)
    ]


def _note_receipts(db: Database, client: int, fresh: Sequence[_Judged], now: datetime) -> None:
    for one in fresh:
        if one.event and one.event.kind == "routine_received":
            routines.note_received(db, client, one.event.body["version"], one.event.on.isoformat(), now)


def _stored_form(one: _Judged, event: Event) -> NewEvent:
    return NewEvent(one.id, event.on.isoformat(), event.kind, event.seq, one.raw, one.hash)


def content_hash(told: object) -> str:
    """Hash an event by its content, however its JSON was written."""
    return hashlib.sha256(msgspec.json.encode(told, order="deterministic")).hexdigest()


def _shown(value: object) -> str:
    text = value if isinstance(value, str) else repr(value)
    return text if len(text) <= VALUE_SHOWN else text[:VALUE_SHOWN] + "…"

"""Stores a batch of events: each event is checked alone, and all valid events are stored in one transaction.

Storing is idempotent: a batch that is sent twice, in pieces or out of order gives the same log. No event is lost: a refused
event stays on the phone, and the server stores it separately, up to a limit for each phone (`bounds`).
"""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import msgspec

from webapp.events.codec import decode
from webapp.events.kinds import FIRST_DAY, LAST_DAY, PRACTICE_KINDS, Event, EventError
from webapp.records import devices, events, routines, withdrawn
from webapp.records.database import Database, write
from webapp.records.events import NewEvent, RefusedEvent
from webapp.sync.limits import bounds
from webapp.wire.sync import Status

MOST_BYTES = 32_768
VALUE_SHOWN = 80


@dataclass(frozen=True)
class Result:
    """The result of one event.

    Attributes:
        id: The event's id, or "" if it has none.
        status: "stored", "duplicate", "conflict" or "rejected".
        code: The code of the fault for which it was refused, or "".
        gaps: The values for the fault's sentence: field, value and rule, if there are any.
    """

    id: str
    status: Status
    code: str = ""
    gaps: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True)
class _Judged:
    """An event of a batch, checked alone and not yet compared with the log; `event` is None if it was refused."""

    id: str
    raw: str
    hash: str
    event: Event | None = None
    code: str = ""
    gaps: dict[str, object] = field(default_factory=dict)


def take_batch(db: Database, client: int, device: str, raws: Sequence[bytes], now: datetime) -> list[Result]:
    """Store events from a phone in their own write; the arguments are those of `take`."""
    with write(db):
        return take(db, client, device, raws, now)


def take(db: Database, client: int, device: str, raws: Sequence[bytes], now: datetime) -> list[Result]:
    """Store events from a phone, inside a write.

    Args:
        db: The records.
        client: The key of the client whom the phone's token stands for, never a client that the batch names.
        device: The phone's id.
        raws: The JSON of each event.
        now: The instant of the call, with a zone.

    Returns:
        A result for each event, in the order of `raws`.

    Raises:
        TooMuchError: The phone has sent too much today; nothing was stored.
    """
    judged = [_judge(raw) for raw in raws]
    results, fresh = _compare(judged, events.hashes_of(db, client, [each.id for each in judged if each.event]))
    new = [_stored_form(each, each.event) for each in fresh if each.event]
    bounds.check_room(db, device, new, now)
    events.append(db, client, device, new, now)
    refused = _refused(judged, results)
    kept = bounds.with_room(db, client, device, list(refused.values()), now)
    events.set_aside(db, client, device, kept, now)
    results = _with_losses(results, refused, kept)
    _note_receipts(db, client, fresh, now)
    devices.note_sync(db, device, events.newest_seq(db, client), now)
    return results


def _judge(raw: bytes) -> _Judged:
    text = raw.decode("utf-8", "replace")
    plain = hashlib.sha256(raw).hexdigest()
    if len(raw) > MOST_BYTES:
        return _Judged(
            "", text[:MOST_BYTES], plain, code="event_too_large", gaps={"value": len(raw), "most": MOST_BYTES}
        )
    try:
        value = msgspec.json.decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return _Judged("", text, plain, code="not_an_object")
    event_id = value.get("id") if isinstance(value, dict) else None
    found = _Judged(event_id if isinstance(event_id, str) else "", text, content_hash(value))
    return _check(found, value)


def _check(found: _Judged, value: Any) -> _Judged:
    try:
        event = decode(value)
        _check_bounds(event)
    except EventError as error:
        shown: dict[str, object] = {"field": error.field, "value": _shown(error.value), "rule": error.rule}
        return _marked(found, error.code, shown)
    if event.kind in PRACTICE_KINDS:
        return _marked(found, "not_from_a_phone", {"field": "kind", "value": event.kind})
    return _Judged(found.id, found.raw, found.hash, event)


def _marked(found: _Judged, code: str, gaps: dict[str, object]) -> _Judged:
    return _Judged(found.id, found.raw, found.hash, None, code, gaps)


def _check_bounds(event: Event) -> None:
    if not FIRST_DAY <= event.on <= LAST_DAY:
        raise EventError("not_in_range", "on", event.on.isoformat(), f"a day from {FIRST_DAY} to {LAST_DAY}")


def _compare(judged: Sequence[_Judged], known: dict[str, str]) -> tuple[list[Result], list[_Judged]]:
    """Compare each event with the log and with earlier events of the batch; return the results and the new events."""
    held, results, fresh = dict(known), [], []
    for each in judged:
        if each.event is None:
            results.append(Result(each.id, "rejected", each.code, each.gaps))
        elif each.id not in held:
            held[each.id] = each.hash
            fresh.append(each)
            results.append(Result(each.id, "stored"))
        elif held[each.id] == each.hash:
            results.append(Result(each.id, "duplicate"))
        else:
            results.append(Result(each.id, "conflict", "same_id_other_content"))
    return results, fresh


def _refused(judged: Sequence[_Judged], results: Sequence[Result]) -> dict[int, RefusedEvent]:
    """Return the refused events, by their index in the batch."""
    return {
        index: RefusedEvent(each.id, each.hash, each.raw, result.code, msgspec.json.encode(result.gaps).decode())
        for index, (each, result) in enumerate(zip(judged, results, strict=True))
        if result.status in ("conflict", "rejected")
    }


def _with_losses(
    results: Sequence[Result], refused: Mapping[int, RefusedEvent], kept: Sequence[RefusedEvent]
) -> list[Result]:
    """Return the results; a refused event that is not stored here gets the code that says that only the phone has it."""
    held = {(event.id, event.hash) for event in kept}
    lost = {index for index, event in refused.items() if (event.id, event.hash) not in held}
    return [
        Result(result.id, result.status, "refused_not_kept") if index in lost else result
        for index, result in enumerate(results)
    ]


def _note_receipts(db: Database, client: int, fresh: Sequence[_Judged], now: datetime) -> None:
    for each in fresh:
        if each.event and each.event.kind == "routine_received":
            withdrawn.bring_back(db, client, each.event.body["version"])
            routines.note_received(db, client, each.event.body["version"], each.event.on.isoformat(), now)


def _stored_form(fresh: _Judged, event: Event) -> NewEvent:
    return NewEvent(fresh.id, event.on.isoformat(), event.kind, event.seq, fresh.raw, fresh.hash)


def content_hash(value: object) -> str:
    """Return a hash of an event's content; it does not depend on how the JSON was written."""
    return hashlib.sha256(msgspec.json.encode(value, order="deterministic")).hexdigest()


def _shown(value: object) -> str:
    text = value if isinstance(value, str) else repr(value)
    return text if len(text) <= VALUE_SHOWN else text[:VALUE_SHOWN] + "…"

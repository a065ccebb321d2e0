"""The answer to a sync: what became of the events, what is new for the phone, where its arms stand.

Knows no HTTP. The bundle and the anchors of one answer belong together.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import msgspec

from webapp.dosing.closing import without_gap
from webapp.dosing.state import State
from webapp.records import bundles, epoch, events, practitioners, routines
from webapp.records.bundles import StoredBundle
from webapp.records.database import Database, instant
from webapp.records.routines import RoutineVersion
from webapp.sync import bundle
from webapp.sync.anchors import Anchor, Starts, anchors_of, new_states
from webapp.sync.plans import plan_of, rows_of
from webapp.sync.take import Result, take_batch

FORMAT = 1
MOST_EVENTS_OUT = 200
NEW_LIFE = "+"


@dataclass(frozen=True)
class Speaker:
    """Whose phone it is.

    Attributes:
        client: The client's row.
        client_id: What the phone calls the client.
        name: The client's name, as the practitioner writes it.
        device: The phone's id.
    """

    client: int
    client_id: str
    name: str
    device: str


@dataclass(frozen=True)
class Asked:
    """What a phone sent and has.

    Attributes:
        on: Its local day.
        locale: Its language, one of those served.
        epoch: The life of the log that its cursor is of, or None at first.
        cursor: The last event that it has read.
        bundle: The hash of the bundle that it has, or None.
        events: The JSON of each event it sends.
    """

    on: date
    locale: str
    epoch: str | None
    cursor: int
    bundle: str | None
    events: Sequence[bytes]


def answer_sync(db: Database, who: Speaker, asked: Asked, now: datetime) -> tuple[list[Result], dict[str, Any]]:
    """Take a phone's events and say what is new for it.

    Args:
        db: The records.
        who: The client behind the phone's token.
        asked: What the phone sent.
        now: The instant of the call, with a zone.

    Returns:
        What became of each event, and the rest of the answer, ready for JSON.
    """
    newest = events.newest_seq(db, who.client)
    life = _life(epoch.current(db), asked, newest)
    is_same_life = life == asked.epoch
    cursor = asked.cursor if is_same_life else 0
    results = take_batch(db, who.client, who.device, asked.events, now, cursor)
    if is_same_life:
        cursor = _past_own(cursor, newest, results, events.newest_seq(db, who.client))
    return results, {
        "format": FORMAT,
        "epoch": life,
        **_news(db, who.client, cursor),
        "client": {"id": who.client_id, "name_shown": who.name.partition(" ")[0]},
        "practitioner": practitioners.name_for(db, who.client),
        **_guidance(db, who.client, asked, now),
        "received_at": instant(now),
    }


def _life(current: str, asked: Asked, newest: int) -> str:
    """Name the life of the log; a phone that has read further than the log reaches is told of a new one."""
    told = asked.epoch or ""
    if told.partition(NEW_LIFE)[0] != current:
        return current
    return f"{current}{NEW_LIFE}{_next_number(told)}" if asked.cursor > newest else told


def _next_number(told: str) -> int:
    number = told.partition(NEW_LIFE)[2]
    return int(number) + 1 if number.isdecimal() and len(number) < len("1000000") else 1


def _past_own(cursor: int, newest: int, results: Sequence[Result], newest_now: int) -> int:
    """Move a cursor past what the phone has just sent, if it had read all before and nobody came between."""
    own = sum(one.status == "stored" for one in results)
    return newest_now if cursor == newest and newest_now == newest + own else cursor


def _news(db: Database, client: int, cursor: int) -> dict[str, Any]:
    found = events.of_client(db, client, cursor, MOST_EVENTS_OUT + 1)
    told = found[:MOST_EVENTS_OUT]
    return {
        "cursor": told[-1].seq if told else cursor,
        "events": [{"seq": one.seq, "event": msgspec.Raw(one.raw.encode())} for one in told],
        "more": len(found) > len(told),
    }


def _guidance(db: Database, client: int, asked: Asked, now: datetime) -> dict[str, Any]:
    version = routines.latest(db, client)
    if version is None:
        return {"bundle": None, "bundle_hash": None, "anchors": {}}
    anchors = anchors_of(db, client, asked.on, version.version)
    stored = bundle_for(db, version, asked.locale, now, new_states(anchors))
    rows = rows_of(plan_of(version), _entries(stored))
    return {
        "bundle": None if stored.hash == asked.bundle else msgspec.Raw(stored.body),
        "bundle_hash": stored.hash,
        "anchors": {arm: _anchor(anchor, rows) for arm, anchor in anchors.items()},
    }


def _starts(starts: Anchor | Starts, rows: Mapping[State, int]) -> dict[str, Any]:
    return {
        "states": [(rows[without_gap(state)], state.gap_days, state.gap_rung) for state in starts.states],
        "why": starts.why,
        "changed": [{"on": each.on.isoformat(), "why": each.why} if each else None for each in starts.changed],
    }


def _anchor(anchor: Anchor, rows: Mapping[State, int]) -> dict[str, Any]:
    return {
        "on": anchor.on.isoformat(),
        "mornings": anchor.mornings,
        **_starts(anchor, rows),
        "asked": anchor.has_asked,
        **({"cube": anchor.eve_cube} if anchor.eve_cube else {}),
        **({"if_troubled": _starts(anchor.if_troubled, rows)} if anchor.if_troubled else {}),
    }


def bundle_for(
    db: Database, version: RoutineVersion, locale: str, now: datetime, needed: frozenset[State] = frozenset()
) -> StoredBundle:
    """Give a routine version's bundle; it is made if there is none, or if a state is not in its almanac.

    Args:
        db: The records.
        version: The routine version.
        locale: The language.
        now: The instant of the call, with a zone.
        needed: States that its almanac must hold.
    """
    stored = bundles.find(db, version.client, version.version, locale)
    entries = _entries(stored) if stored else ()
    rows = rows_of(plan_of(version), entries)
    missing = {bare for bare in map(without_gap, needed) if bare not in rows}
    if stored is None or missing:
        stored = _make(version, locale, (*entries, *sorted(missing, key=repr)))
        bundles.keep(db, stored, now)
    return stored


def _make(version: RoutineVersion, locale: str, entries: tuple[State, ...]) -> StoredBundle:
    made = bundle.make_stored_bundle(version.routine, version.settings, version.version, version.note, locale, entries)
    listed = msgspec.json.encode(entries).decode()
    packed = bundles.pack(bundle.bundle_bytes(made))
    return StoredBundle(version.client, version.version, locale, str(made["hash"]), listed, packed)


def _entries(stored: StoredBundle) -> tuple[State, ...]:
    return msgspec.json.decode(stored.entries, type=tuple[State, ...])

"""The guidance of a phone: its bundle, and the anchors that point into the bundle's almanac.

A write makes three caches stale: the checkpoint, the caseload's summary and the anchors. All three are computed from one
fold, and stored. So a sync that changes nothing needs no fold.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import NamedTuple

import msgspec
from msgspec import UNSET, UnsetType

from webapp.dosing.closing import without_gap
from webapp.dosing.state import State
from webapp.records import bundles, events, guidance, routines, summaries
from webapp.records.bundles import StoredBundle
from webapp.records.database import Database, write
from webapp.records.guidance import StoredGuidance
from webapp.records.routines import RoutineVersion
from webapp.records.summaries import StoredSummary
from webapp.sync.bundle import bundle
from webapp.sync.bundle.almanac_rows import pack, row_of
from webapp.sync.bundle.plans import plan_of
from webapp.sync.caseload import summary
from webapp.sync.folding import checkpoint
from webapp.sync.folding.anchors import LATE_DAYS, Anchor, Starts, anchor_day, anchors_from, new_states
from webapp.sync.folding.checkpoint import Resumed
from webapp.sync.folding.fold import ONE_DAY
from webapp.sync.folding.returning import WayBack, open_way, way_back
from webapp.sync.log.local_day import local_day, zone_of
from webapp.sync.phone.way_start import wired_way
from webapp.wire import sync as wire

NEAR = 2 * ONE_DAY
Rows = Mapping[State, int | None]
"""Which row of an almanac each state has, without its gap; None for one that it does not hold."""


class Guidance(NamedTuple):
    """The guidance of a phone: the bundle (None if the phone has it already), its hash, the anchors by arm as JSON."""

    bundle: msgspec.Raw | None
    bundle_hash: str | None
    anchors: msgspec.Raw


NO_GUIDANCE = Guidance(None, None, msgspec.Raw(b"{}"))


@dataclass(frozen=True)
class Asking:
    """The client of a request, the phone's local day, its language."""

    client: int
    on: date
    locale: str


@dataclass(frozen=True)
class Worked:
    """The results of one fold, and what they were computed from.

    Attributes:
        asking: The request.
        version: The newest routine version.
        through_seq: The number of the last event.
        resumed: The fold.
        summary: The summary for the caseload; empty if the phone's clock is far from the server's clock.
        anchors: The anchors by arm.
        way: The way back to sport or work at the start of the day before the anchors, or None.
        sent: The anchors as they are sent, or None if the bundle must be made first.
    """

    asking: Asking
    version: int
    through_seq: int
    resumed: Resumed
    summary: list[StoredSummary]
    anchors: Mapping[str, Anchor]
    way: WayBack | None = None
    sent: StoredGuidance | None = None


def work_out(db: Database, asking: Asking, now: datetime) -> Worked | None:
    """Fold the log, inside a write but without writing; None if the client has no routine."""
    version = routines.newest_number(db, asking.client)
    if not version:
        return None
    resumed, made = _folded(db, asking, now)
    on = anchor_day(resumed, asking.on, version)
    anchors = anchors_from(resumed, on, version)
    way = _way(db, resumed, asking, on - ONE_DAY)
    worked = Worked(asking, version, events.newest_seq(db, asking.client), resumed, made, anchors, way)
    return replace(worked, sent=_pointing(db, worked))


def _way(db: Database, resumed: Resumed, asking: Asking, day: date) -> WayBack | None:
    opened = open_way(db, asking.client, asking.on)
    if opened is None:
        return None
    return checkpoint.way_from(resumed, opened, day) or way_back(db, asking.client, day, opened_by=asking.on)


def keep(db: Database, worked: Worked) -> None:
    """Store the results of a fold, inside the same write."""
    checkpoint.keep(db, worked.asking.client, worked.resumed)
    summaries.keep(db, worked.summary)
    if worked.sent:
        guidance.keep(db, worked.sent)


def _folded(db: Database, asking: Asking, now: datetime) -> tuple[Resumed, list[StoredSummary]]:
    """Return a fold for the phone's day and, if the two clocks nearly agree, the summary for the server's day."""
    client, zone = asking.client, zone_of(db, asking.client)
    today = local_day(now, zone)
    if abs(asking.on - today) > NEAR:
        return checkpoint.resume(db, client, asking.on - LATE_DAYS - ONE_DAY), []
    resumed = checkpoint.resume(db, client, min(asking.on, today) - LATE_DAYS - ONE_DAY)
    return resumed, [summary.work_out(db, client, resumed, today, zone)]


def _pointing(db: Database, worked: Worked) -> StoredGuidance | None:
    stored = bundles.find(db, worked.asking.client, worked.version, worked.asking.locale)
    if stored is None:
        return None
    rows = _rows(stored.rows, new_states(worked.anchors))
    return None if _missing(rows) else _stored_form(worked, stored, rows)


def _rows(packed: bytes, needed: Iterable[State]) -> Rows:
    """Look up each state once, without its gap, in an almanac's packed rows."""
    return {bare: row_of(packed, bare) for bare in set(map(without_gap, needed))}


def _missing(rows: Rows) -> set[State]:
    """Return the states that are not in the almanac."""
    return {bare for bare, row in rows.items() if row is None}


def _stored_form(worked: Worked, stored: StoredBundle, rows: Rows) -> StoredGuidance:
    asking = worked.asking
    way = wired_way(worked.way) if worked.way else UNSET
    anchors = {arm: _anchor(anchor, rows, way) for arm, anchor in worked.anchors.items()}
    written, on_day = msgspec.json.encode(anchors).decode(), asking.on.isoformat()
    return StoredGuidance(
        asking.client, asking.locale, on_day, worked.through_seq, worked.version, stored.hash, written
    )


def guide(db: Database, asking: Asking, known_bundle: str | None, now: datetime) -> Guidance:
    """Return the guidance of a phone, from the cache or from a fold.

    Args:
        db: The records.
        asking: The request.
        known_bundle: The hash of the bundle that the phone has, or None.
        now: The instant of the call, with a zone.
    """
    sent = _kept(db, asking)
    if sent is None:
        with write(db):
            worked = work_out(db, asking, now)
            if worked is None:
                return NO_GUIDANCE
            keep(db, worked)
        sent = worked.sent or _with_new_bundle(db, worked, now)
    stored = None if sent.bundle_hash == known_bundle else bundles.find(db, sent.client, sent.version, sent.locale)
    body = msgspec.Raw(stored.body) if stored else None
    return Guidance(body, sent.bundle_hash, msgspec.Raw(sent.anchors.encode()))


def _kept(db: Database, asking: Asking) -> StoredGuidance | None:
    through_seq = events.newest_seq(db, asking.client)
    return guidance.find(db, asking.client, asking.locale, asking.on.isoformat(), through_seq)


def _with_new_bundle(db: Database, worked: Worked, now: datetime) -> StoredGuidance:
    """Make the bundle, which is slow, outside any write; then store the anchors that point into it."""
    version = routines.find(db, worked.asking.client, worked.version)
    assert version is not None, "a version is never taken back"
    states = new_states(worked.anchors)
    stored = bundle_for(db, version, worked.asking.locale, now, states)
    sent = _stored_form(worked, stored, _rows(stored.rows, states))
    with write(db):
        guidance.keep(db, sent)
    return sent


def _starts(starts: Starts, rows: Rows) -> wire.Starts:
    return wire.Starts(
        states=[_pointer(state, rows) for state in starts.states],
        why=starts.why,
        changed=[wire.LastChange(on=each.on.isoformat(), why=each.why) if each else None for each in starts.changed],
    )


def _pointer(state: State, rows: Rows) -> tuple[int, int, int]:
    row = rows[without_gap(state)]
    assert row is not None, "the bundle's almanac was made to hold every state of the anchors"
    return row, state.gap_days, state.gap_rung


def _anchor(anchor: Anchor, rows: Rows, way: wire.WayStart | UnsetType) -> wire.Anchor:
    starts = _starts(Starts(anchor.states, anchor.why, anchor.changed), rows)
    return wire.Anchor(
        on=anchor.on.isoformat(),
        mornings=anchor.mornings,
        states=starts.states,
        why=starts.why,
        changed=starts.changed,
        asked=anchor.has_asked,
        cube=anchor.eve_cube or UNSET,
        if_troubled=_starts(anchor.if_troubled, rows) if anchor.if_troubled else UNSET,
        way=way,
    )


def bundle_for(
    db: Database, version: RoutineVersion, locale: str, now: datetime, needed: frozenset[State] = frozenset()
) -> StoredBundle:
    """Return a routine version's bundle; it is made if it is not stored, or if its almanac lacks a needed state.

    Args:
        db: The records.
        version: The routine version.
        locale: The language.
        now: The instant of the call, with a zone.
        needed: States that its almanac must hold.
    """
    stored = bundles.find(db, version.client, version.version, locale)
    rows = stored.rows if stored else pack(bundle.almanac_of(plan_of(version)).rows)
    missing = _missing(_rows(rows, needed))
    if stored is None or missing:
        stored = _make(version, locale, (*(_entries(stored) if stored else ()), *sorted(missing, key=repr)))
        bundles.keep(db, stored, now)
    return stored


def _make(version: RoutineVersion, locale: str, entries: tuple[State, ...]) -> StoredBundle:
    made = bundle.make_stored_bundle(version.routine, version.settings, version.version, version.note, locale, entries)
    listed = msgspec.json.encode(entries).decode()
    packed = bundles.pack(bundle.bundle_bytes(made))
    rows = pack(bundle.almanac_of(plan_of(version), entries).rows)
    return StoredBundle(version.client, version.version, locale, str(made["hash"]), listed, packed, rows)


def _entries(stored: StoredBundle) -> tuple[State, ...]:
    return msgspec.json.decode(stored.entries, type=tuple[State, ...])

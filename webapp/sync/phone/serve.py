"""The answer to a sync: the result of each event, everything new for the phone, the anchors of its arms.

Knows no HTTP. The bundle and the anchors of one answer belong together.
"""

import logging
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import NamedTuple

import msgspec

from webapp.records import devices, epoch, events
from webapp.records.database import Database, instant, write
from webapp.sync.case.screening import screening_of
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.log.take import Result, take
from webapp.sync.phone.group_joining import start_if_clear
from webapp.sync.phone.guidance import Asking, guide, keep, work_out
from webapp.sync.phone.practitioner import practitioner_shown
from webapp.wire import sync as wire
from webapp.wire.sync import FORMAT, ClientShown, Reply, Start, Told
from webapp.words.answers import ANSWERS, answer

_log = logging.getLogger(__name__)

MOST_EVENTS_OUT = 200
NOTED_EACH = timedelta(minutes=1)
"""An empty sync sooner after the last than this is not noted: the practitioner reads minutes."""


@dataclass(frozen=True)
class Speaker:
    """The phone of a request and its client.

    Attributes:
        client: The client's key.
        client_id: The client's public id.
        name: The client's name, as the practitioner writes it.
        device: The phone's id.
    """

    client: int
    client_id: str
    name: str
    device: str


@dataclass(frozen=True)
class PhoneBatch:
    """A sync request of a phone.

    Attributes:
        on: The phone's local day.
        locale: The phone's language, one of the served languages.
        epoch: The epoch to which the cursor belongs, or None at the first sync.
        cursor: The number of the last event that the phone has read.
        bundle: The hash of the phone's bundle, or None.
        events: The JSON of each event that the phone sends.
    """

    on: date
    locale: str
    epoch: str | None
    cursor: int
    bundle: str | None
    events: Sequence[bytes]


def answer_sync(db: Database, who: Speaker, batch: PhoneBatch, now: datetime) -> Reply:
    """Store a phone's events, and return everything that is new for the phone.

    Args:
        db: The records.
        who: The phone and its client, from the phone's token.
        batch: The request.
        now: The instant of the call, with a zone.

    Returns:
        The answer, in the phone's language.
    """
    newest = events.newest_seq(db, who.client)
    life = _life(db, who, batch)
    is_same_life = life == batch.epoch
    asking = Asking(who.client, batch.on, batch.locale)
    results = _taken(db, who, batch, asking, newest, now=now)
    cursor = 0
    if is_same_life:
        cursor = _past_own(batch.cursor, newest, results, events.newest_seq(db, who.client))
    news, guidance = _news(db, who, cursor), guide(db, asking, batch.bundle, now)
    return Reply(
        format=FORMAT,
        epoch=life,
        results=[_shown(result, batch.locale) for result in results],
        cursor=news.cursor,
        events=news.events,
        more=news.more,
        client=ClientShown(id=who.client_id, name_shown=who.name.partition(" ")[0]),
        practitioner=practitioner_shown(db, who.client),
        start=_start(db, who.client),
        bundle=guidance.bundle,
        bundle_hash=guidance.bundle_hash,
        anchors=guidance.anchors,
        received_at=instant(now),
    )


def _start(db: Database, client: int) -> Start:
    screening = screening_of(db, client)
    return Start(waits_for=screening.waits_for, asks_intake=screening.asks_intake)


def _shown(result: Result, locale: str) -> wire.Result:
    known = result.code if result.code in ANSWERS else "event_fault"
    message = answer(known, locale, **result.gaps) if result.code else ""
    return wire.Result(id=result.id, status=result.status, code=result.code, message=message, again=False)


def _taken(
    db: Database, who: Speaker, batch: PhoneBatch, asking: Asking, newest: int, *, now: datetime
) -> list[Result]:
    """Store a phone's events and, in the same write, renew the caches that they make stale."""
    if not batch.events and devices.is_noted(db, who.device, newest, now - NOTED_EACH):
        return []
    with write(db):
        results = take(db, who.client, who.device, batch.events, now)
        if any(result.status == "stored" for result in results):
            if start_if_clear(db, who.client, batch.on, now):
                # What the practice wrote just now goes out with this answer.
                devices.note_sync(db, who.device, events.newest_seq(db, who.client), now)
            worked = None
            # The stored events must stay, even if the fold fails. The answer then folds again, and reports the fault.
            with suppress(*FAULTS_OF_A_FOLD):
                worked = work_out(db, asking, now)
            if worked:
                keep(db, worked)
    return results


def _life(db: Database, who: Speaker, batch: PhoneBatch) -> str:
    """Return the epoch of the client's log; draw a new epoch if the phone proves that the log went back.

    The proof is a cursor beyond every event that this log has sent to the phone. All phones of the client then get the new
    epoch, since any of them may hold the lost events.
    """
    life = epoch.of_client(db, who.client)
    if batch.epoch != life or batch.cursor <= _furthest_sent(db, who):
        return life
    _log.warning(
        "the log of client %s went back: a phone has read up to entry %d and was told up to %d;"
        " every phone of this client is asked for all its entries again",
        who.client_id,
        batch.cursor,
        _furthest_sent(db, who),
    )
    return epoch.renew_for(db, who.client)


def _furthest_sent(db: Database, who: Speaker) -> int:
    reached = devices.furthest_sent(db, who.device)
    return events.newest_seq(db, who.client) if reached is None else reached


def _past_own(cursor: int, newest: int, results: Sequence[Result], newest_now: int) -> int:
    """Return the cursor, moved past the phone's own new events if it had read all others and no other phone wrote meanwhile."""
    own = sum(result.status == "stored" for result in results)
    return newest_now if cursor == newest and newest_now == newest + own else cursor


class _News(NamedTuple):
    cursor: int
    events: list[Told]
    more: bool


def _news(db: Database, who: Speaker, cursor: int) -> _News:
    most = _furthest_sent(db, who)
    found = [stored for stored in events.of_client(db, who.client, cursor, MOST_EVENTS_OUT + 1) if stored.seq <= most]
    sent = [Told(seq=stored.seq, event=msgspec.Raw(stored.raw.encode())) for stored in found[:MOST_EVENTS_OUT]]
    return _News(sent[-1].seq if sent else cursor, sent, more=len(found) > len(sent))

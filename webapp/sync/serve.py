"""The answer to a sync: what became of the events, what is new for the phone, where its arms stand.

Knows no HTTP. The bundle and the anchors of one answer belong together.
"""

import logging
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import NamedTuple

import msgspec

from webapp.records import devices, epoch, events, practitioners
from webapp.records.database import Database, instant, write
from webapp.sync.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.guidance import Asking, guide, keep, work_out
from webapp.sync.take import Result, take
from webapp.wire import sync as wire
from webapp.wire.sync import FORMAT, ClientShown, Reply, Told
from webapp.words.answers import ANSWERS, answer

_log = logging.getLogger(__name__)

MOST_EVENTS_OUT = 200
NOTED_EACH = timedelta(minutes=1)
"""An empty sync sooner after the last than this is not noted: the practitioner reads minutes."""


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
class PhoneBatch:
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


def answer_sync(db: Database, who: Speaker, asked: PhoneBatch, now: datetime) -> Reply:
    """Take a phone's events and say what is new for it.

    Args:
        db: The records.
        who: The client behind the phone's token.
        asked: What the phone sent.
        now: The instant of the call, with a zone.

    Returns:
        The answer, in the phone's language.
    """
    newest = events.newest_seq(db, who.client)
    life = _life(db, who, asked)
    is_same_life = life == asked.epoch
    asking = Asking(who.client, asked.on, asked.locale)
    results = _taken(db, who, asked, asking, newest, now=now)
    cursor = 0
    if is_same_life:
        cursor = _past_own(asked.cursor, newest, results, events.newest_seq(db, who.client))
    news, guidance = _news(db, who, cursor), guide(db, asking, asked.bundle, now)
    return Reply(
        format=FORMAT,
        epoch=life,
        results=[_shown(result, asked.locale) for result in results],
        cursor=news.cursor,
        events=news.events,
        more=news.more,
        client=ClientShown(id=who.client_id, name_shown=who.name.partition(" ")[0]),
        practitioner=practitioners.name_for(db, who.client),
        bundle=guidance.bundle,
        bundle_hash=guidance.bundle_hash,
        anchors=guidance.anchors,
        received_at=instant(now),
    )


def _shown(result: Result, locale: str) -> wire.Result:
    known = result.code if result.code in ANSWERS else "event_fault"
    message = answer(known, locale, **result.told) if result.code else ""
    return wire.Result(id=result.id, status=result.status, code=result.code, message=message, again=False)


def _taken(
    db: Database, who: Speaker, asked: PhoneBatch, asking: Asking, newest: int, *, now: datetime
) -> list[Result]:
    """Take a phone's events, and work out in the same write what they make stale."""
    if not asked.events and devices.is_noted(db, who.device, newest, now - NOTED_EACH):
        return []
    with write(db):
        results = take(db, who.client, who.device, asked.events, now)
        if any(one.status == "stored" for one in results):
            worked = None
            # What was taken must be kept whatever fault the fold meets; the answer then meets it again, and tells it.
            with suppress(*FAULTS_OF_A_FOLD):
                worked = work_out(db, asking, now)
            if worked:
                keep(db, worked)
    return results


def _life(db: Database, who: Speaker, asked: PhoneBatch) -> str:
    """Name the life of the log; a phone that has read what this log never told it proves that it went back.

    Then every phone of the client is told of a new life, not this one alone: what went missing may lie on any.
    """
    life = epoch.of_client(db, who.client)
    if asked.epoch != life or asked.cursor <= _told(db, who):
        return life
    _log.warning(
        "the log of client %s went back: a phone has read up to entry %d and was told up to %d;"
        " every phone of this client is asked for all its entries again",
        who.client_id,
        asked.cursor,
        _told(db, who),
    )
    return epoch.renew_for(db, who.client)


def _told(db: Database, who: Speaker) -> int:
    told = devices.told(db, who.device)
    return events.newest_seq(db, who.client) if told is None else told


def _past_own(cursor: int, newest: int, results: Sequence[Result], newest_now: int) -> int:
    """Move a cursor past what the phone has just sent, if it had read all before and nobody came between."""
    own = sum(one.status == "stored" for one in results)
    return newest_now if cursor == newest and newest_now == newest + own else cursor


class _News(NamedTuple):
    cursor: int
    events: list[Told]
    more: bool


def _news(db: Database, who: Speaker, cursor: int) -> _News:
    most = _told(db, who)
    found = [stored for stored in events.of_client(db, who.client, cursor, MOST_EVENTS_OUT + 1) if stored.seq <= most]
    sent = [Told(seq=stored.seq, event=msgspec.Raw(stored.raw.encode())) for stored in found[:MOST_EVENTS_OUT]]
    return _News(sent[-1].seq if sent else cursor, sent, more=len(found) > len(sent))

"""The summary of a client for the caseload, computed ahead for some days.

Until something new is written, the coming days are known already: a day without entries is closed like any other day. So a
summary holds what the caseload shows on each of the coming days, and the caseload page needs no fold.
"""

import logging
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from time import perf_counter

import msgspec

from webapp.dosing.course import NOTHING, is_sharp
from webapp.dosing.settings import ARMS
from webapp.events.course_set import course_on
from webapp.records import events, letters, routines, summaries
from webapp.records.database import Database, read, write
from webapp.records.summaries import GLANCES, StoredSummary
from webapp.sync.case.finishing import courses_of
from webapp.sync.case.letters import thread_of
from webapp.sync.case.screening import screening_of
from webapp.sync.case.to_ask import asked_until
from webapp.sync.caseload import glance
from webapp.sync.caseload.glance import read_glance
from webapp.sync.caseload.shown import ArmShown, Shown, ShownToday, Span, Summary
from webapp.sync.folding import checkpoint
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD, Resumed
from webapp.sync.folding.fold import ONE_DAY, Course
from webapp.sync.log.local_day import local_day, zone_of

_log = logging.getLogger(__name__)

DAYS_AHEAD = 4
MOST_TOLD = 256
"""So many logs that cannot be folded are remembered, so that each is told of once."""


def summarize(db: Database, client: int, resumed: Resumed, zone: str, today: date, *, unread_letters: int) -> Summary:
    """Compute the summary from today on.

    Args:
        db: The records.
        client: The client's key.
        resumed: A fold that can be resumed at a day before today.
        zone: The client's time zone.
        today: The local day.
        unread_letters: Letters of the client that the practice has not read.
    """
    until = today + DAYS_AHEAD * ONE_DAY
    arms = {arm: dict(_days(resumed, arm, today, until)) for arm in ARMS if arm in resumed.course.arms()}
    spans: list[Span] = []
    for number in range(DAYS_AHEAD):
        day = today + number * ONE_DAY
        shown = tuple(days[day] for days in arms.values() if day in days)
        if not spans or spans[-1].arms != shown:
            spans.append(Span(day, shown))
    start_waits = screening_of(db, client).waits_for == "practitioner"
    to_ask = asked_until(db, client, today)
    return Summary(zone, tuple(spans), until, start_waits, unread_letters, to_ask, courses_of(db, client))


def _days(resumed: Resumed, arm: str, today: date, until: date) -> Iterator[tuple[date, ArmShown]]:
    """Yield each day on which an arm is shown: while it is in the routine, and while it is held."""
    course, progress = resumed.course, resumed.progress(arm)
    facts, last = course.diary.of_arm(arm), resumed.last(arm, today)
    done, days = resumed.last(arm, today + ONE_DAY).session_on, course.run(arm, progress, resumed.start, until)[0]
    modes = {day.on: day.state_before.mode for day in days if day.on >= today}
    for on in (today + number * ONE_DAY for number in range(DAYS_AHEAD)):
        known = facts.get(on, NOTHING)
        last = last.after(on, known)
        done = on + ONE_DAY if facts.get(on + ONE_DAY, NOTHING).sessions else done
        mode = "held" if on in modes and is_sharp(known) else modes.get(on)
        version = max(course.diary.version_on(on), progress.version if progress else 0)
        if mode is not None and (mode == "held" or _is_asked(course, arm, version)):
            yield on, ArmShown(arm, mode, last.morning, last.morning_on, done)


def _is_asked(course: Course, arm: str, version: int) -> bool:
    return arm in course.plans[version].client.arms


def work_out(db: Database, client: int, resumed: Resumed, today: date, zone: str) -> StoredSummary:
    """Return a client's summary for storing; must be called inside the write or read in which the log was folded."""
    summary = summarize(db, client, resumed, zone, today, unread_letters=letters.unread_of_client(db, client))
    text = msgspec.json.encode(summary).decode()
    return StoredSummary(client, events.newest_seq(db, client), routines.newest_number(db, client), text)


def _read(text: str) -> Summary:
    return msgspec.json.decode(text, type=Summary)


def always() -> bool:
    """Allow every client to be computed, however long that takes."""
    return True


def shown_of_practitioner(
    db: Database,
    practitioner: int,
    now: datetime,
    may_go_on: Callable[[], bool] = always,
    left_out: Collection[int] = (),
) -> ShownToday:
    """Return what the caseload shows of each current client.

    A summary or glance that is missing or stale, or does not cover today, is computed again and stored.

    Args:
        db: The records.
        practitioner: The practitioner's key.
        now: The instant of the call, with a zone.
        may_go_on: Called before each client whose rows must be computed; once it returns false, the others are left out.
        left_out: Keys of clients who are not shown; their rows are not computed.
    """
    glances = summaries.of_practitioner(db, practitioner, GLANCES)
    rows = summaries.of_practitioner(db, practitioner)
    kept = {client: _shown(text, glances.get(client), now) for client, text in rows.items() if client not in left_out}
    anew = [client for client, shown in kept.items() if shown is None]
    renewed = _renewed(db, anew, now, may_go_on)
    return ShownToday({client: each for client, each in kept.items() if each} | renewed.shown, renewed.unreadable)


def shown_of_client(db: Database, client: int, now: datetime) -> Shown:
    """Return what the caseload shows of one client, as `shown_of_practitioner` does.

    Raises:
        Exception: One of `FAULTS_OF_A_FOLD`: the log cannot be folded.
    """
    kept = _shown(summaries.find(db, client), summaries.find(db, client, GLANCES), now)
    return kept or _stored(db, [_made(db, client, now)], now)[client]


def renew(db: Database, clock: Callable[[], datetime], rest: Callable[[float], bool]) -> None:
    """Compute, client by client, every summary and glance that is missing or stale, or does not cover today.

    Args:
        db: The records.
        clock: Returns the present instant, with a zone.
        rest: Called after each such client with the seconds that it took, so that other work gets as much time. If it
            returns true, the work ends.
    """
    glances = summaries.of_everybody(db, GLANCES)
    for client, text in summaries.of_everybody(db).items():
        if _shown(text, glances.get(client), clock()) is not None:
            continue
        began = perf_counter()
        _renewed(db, [client], clock(), always)
        if rest(perf_counter() - began):
            return


def _shown(text: str | None, glanced: str | None, now: datetime) -> Shown | None:
    if text is None or glanced is None:
        return None
    summary, whole = _read(text), read_glance(glanced)
    today = local_day(now, summary.zone)
    arms, seen = summary.on(today), whole.on(today)
    if arms is None or seen is None:
        return None
    asked_until = summary.asked_until if summary.asked_until is not None and today < summary.asked_until else None
    course = course_on(summary.courses, today)
    return Shown(today, arms, summary.start_waits, summary.unread_letters, asked_until, course, seen, whole)


@dataclass(frozen=True)
class _Made:
    """A client's summary and glance and the fold from which the summary was computed, not stored yet."""

    resumed: Resumed
    summary: StoredSummary
    glance: StoredSummary


def _renewed(db: Database, clients: Sequence[int], now: datetime, may_go_on: Callable[[], bool]) -> ShownToday:
    """Fold outside any write, so that no phone waits; then store all results. One log's fault keeps no other from being folded."""
    made, unreadable = [], set()
    for client in clients:
        if not may_go_on():
            continue
        try:
            made.append(_made(db, client, now))
        except FAULTS_OF_A_FOLD:
            unreadable.add(client)
            _tell_once(db.path, client, events.newest_seq(db, client))
    return ShownToday(_stored(db, made, now), frozenset(unreadable))


@lru_cache(MOST_TOLD)
def _tell_once(_path: Path, client: int, _newest: int) -> None:
    """Log the present fault; the same log is met again every few seconds, and one trace of it is enough."""
    _log.exception("the log of the client in row %d cannot be folded", client)


def _stored(db: Database, made: Sequence[_Made], now: datetime) -> dict[int, Shown]:
    if made:
        with write(db):
            for renewal in made:
                checkpoint.keep(db, renewal.summary.client, renewal.resumed)
            summaries.keep(db, [renewal.summary for renewal in made])
            summaries.keep(db, [renewal.glance for renewal in made], GLANCES)
    shown = {each.summary.client: _shown(each.summary.content, each.glance.content, now) for each in made}
    return {client: each for client, each in shown.items() if each}


def _made(db: Database, client: int, now: datetime) -> _Made:
    # A row names its last event. If a newer event was stored meanwhile, the row is stale, and no look-up returns it.
    with read(db):
        zone = zone_of(db, client)
        today = local_day(now, zone)
        resumed = checkpoint.anew(db, client, today - ONE_DAY)
        summary = work_out(db, client, resumed, today, zone)
        return _Made(resumed, summary, glance.work_out(db, client, resumed.course, today))


def that_differ(db: Database) -> list[str]:
    """Compare each summary and glance in use with what the whole log gives, without checkpoints.

    Returns:
        The public ids of the clients whose summary or glance differs from their log, or whose log cannot be folded.
    """
    rows = [(public_id, _is_wrong(_differs, db, kept)) for public_id, kept in summaries.not_stale(db)]
    rows += [(public_id, _is_wrong(glance.differs, db, kept)) for public_id, kept in summaries.not_stale(db, GLANCES)]
    return sorted({public_id for public_id, is_wrong in rows if is_wrong})


def _is_wrong(differs: Callable[[Database, StoredSummary], bool], db: Database, kept: StoredSummary) -> bool:
    try:
        return differs(db, kept)
    except FAULTS_OF_A_FOLD:
        return True


def _differs(db: Database, kept: StoredSummary) -> bool:
    return _read(kept.content) != _from_whole_log(db, kept)


def _from_whole_log(db: Database, kept: StoredSummary) -> Summary:
    today = _read(kept.content).spans[0].since
    whole, zone = checkpoint.whole(db, kept.client, today - ONE_DAY), zone_of(db, kept.client)
    unread = sum(letter.is_unread for letter in thread_of(db, kept.client))
    return summarize(db, kept.client, whole, zone, today, unread_letters=unread)

"""The summary of a client for the caseload, computed ahead for some days.

Until something new is written, the coming days are known already: a day without entries is closed like any other day. So a
summary holds what the caseload shows on each of the coming days, and the caseload page needs no fold.
"""

import logging
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from time import perf_counter

import msgspec

from webapp.dosing.course import NOTHING, is_sharp
from webapp.dosing.settings import ARMS
from webapp.events.course_set import course_on
from webapp.records import events, letters, routines, summaries
from webapp.records.database import Database, read, write
from webapp.records.summaries import StoredSummary
from webapp.sync import checkpoint
from webapp.sync.checkpoint import FAULTS_OF_A_FOLD, Resumed
from webapp.sync.finishing import courses_of
from webapp.sync.fold import ONE_DAY, Course
from webapp.sync.letters import thread_of
from webapp.sync.local_day import local_day, zone_of
from webapp.sync.screening import screening_of
from webapp.sync.shown import ArmShown, Shown, Span, Summary
from webapp.sync.to_ask import asked_until

_log = logging.getLogger(__name__)

DAYS_AHEAD = 4


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
    db: Database, practitioner: int, now: datetime, may_go_on: Callable[[], bool] = always
) -> dict[int, Shown]:
    """Return what the caseload shows of each current client, by the client's key.

    A summary that is missing or stale, or does not cover today, is computed again and stored.

    Args:
        db: The records.
        practitioner: The practitioner's key.
        now: The instant of the call, with a zone.
        may_go_on: Called before each client whose summary must be computed; once it returns false, the others are left out.
    """
    kept = {client: _shown(text, now) for client, text in summaries.of_practitioner(db, practitioner).items()}
    anew = [client for client, shown in kept.items() if shown is None]
    return {client: shown for client, shown in kept.items() if shown} | _renewed(db, anew, now, may_go_on)


def renew(db: Database, clock: Callable[[], datetime], rest: Callable[[float], bool]) -> None:
    """Compute, client by client, every summary that is missing or stale, or does not cover today.

    Args:
        db: The records.
        clock: Returns the present instant, with a zone.
        rest: Called after each client with the seconds that it took, so that other work gets as much time. If it returns
            true, the work ends.
    """
    for client in summaries.of_everybody(db):
        began = perf_counter()
        try:
            if _shown(summaries.find(db, client), clock()) is None:
                _renewed(db, [client], clock(), always)
        except FAULTS_OF_A_FOLD:
            _log.exception("the log of the client in row %d cannot be folded", client)
        if rest(perf_counter() - began):
            return


def _shown(text: str | None, now: datetime) -> Shown | None:
    if text is None:
        return None
    summary = _read(text)
    today = local_day(now, summary.zone)
    arms = summary.on(today)
    course = course_on(summary.courses, today)
    if arms is None:
        return None
    is_to_ask = summary.asked_until is not None and today < summary.asked_until
    return Shown(today, arms, summary.start_waits, summary.unread_letters, is_to_ask, course)


@dataclass(frozen=True)
class _Made:
    """A client's summary and the fold from which it was computed, not stored yet."""

    resumed: Resumed
    summary: StoredSummary


def _renewed(db: Database, clients: Sequence[int], now: datetime, may_go_on: Callable[[], bool]) -> dict[int, Shown]:
    """Fold outside any write, so that no phone waits; then store all results in one short write."""
    made = [_made(db, client, now) for client in clients if may_go_on()]
    if made:
        with write(db):
            for renewal in made:
                checkpoint.keep(db, renewal.summary.client, renewal.resumed)
            summaries.keep(db, [renewal.summary for renewal in made])
    shown = {renewal.summary.client: _shown(renewal.summary.content, now) for renewal in made}
    return {client: each for client, each in shown.items() if each}


def _made(db: Database, client: int, now: datetime) -> _Made:
    # A row names its last event. If a newer event was stored meanwhile, the row is stale, and no look-up returns it.
    with read(db):
        zone = zone_of(db, client)
        today = local_day(now, zone)
        resumed = checkpoint.resume(db, client, today - ONE_DAY)
        return _Made(resumed, work_out(db, client, resumed, today, zone))


def that_differ(db: Database) -> list[str]:
    """Compare each summary in use with a summary from the whole log, made without checkpoints.

    Returns:
        The public ids of the clients whose summary differs from their log.
    """
    return [
        public_id for public_id, kept in summaries.not_stale(db) if _read(kept.content) != _from_whole_log(db, kept)
    ]


def _from_whole_log(db: Database, kept: StoredSummary) -> Summary:
    today = _read(kept.content).spans[0].since
    whole, zone = checkpoint.whole(db, kept.client, today - ONE_DAY), zone_of(db, kept.client)
    unread = sum(letter.is_unread for letter in thread_of(db, kept.client))
    return summarize(db, kept.client, whole, zone, today, unread_letters=unread)

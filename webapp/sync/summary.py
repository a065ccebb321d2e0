"""What the caseload shows of a client, worked out ahead for the coming days.

Until something new is written, each coming day is known already: a day without an entry closes like any other. So a
summary holds, for some days on, what each of them will show, and a look at the caseload folds nothing.
"""

import logging
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from time import perf_counter

import msgspec

from webapp.dosing.course import NOTHING, is_sharp
from webapp.dosing.settings import ARMS
from webapp.records import events, routines, summaries
from webapp.records.database import Database, read, write
from webapp.records.summaries import StoredSummary
from webapp.sync import checkpoint
from webapp.sync.checkpoint import FAULTS_OF_A_FOLD, Resumed
from webapp.sync.fold import ONE_DAY, Course
from webapp.sync.local_day import local_day, zone_of

_log = logging.getLogger(__name__)

DAYS_AHEAD = 4


@dataclass(frozen=True)
class ArmShown:
    """One arm on one day, as the caseload shows it.

    Attributes:
        arm: Which.
        mode: training, resting or held; held too where the day itself brought sharp pain or a warning sign.
        morning: The last morning's rating known, or None.
        morning_on: The day of that morning.
        last_session_on: The last day with a session, the next day included: a phone's day may begin before.
    """

    arm: str
    mode: str
    morning: int | None
    morning_on: date | None
    last_session_on: date | None


@dataclass(frozen=True)
class Span:
    """What is shown from a day on, until another span begins."""

    since: date
    arms: tuple[ArmShown, ...]


@dataclass(frozen=True)
class Summary:
    """What is shown of a client, day by day.

    Attributes:
        zone: The time zone that decides which day it is.
        spans: From the day on which it was made, the earliest first.
        until: The first day that it says nothing of.
    """

    zone: str
    spans: tuple[Span, ...]
    until: date

    def on(self, day: date) -> tuple[ArmShown, ...] | None:
        """Return what is shown on a day, None where the summary does not say."""
        if day >= self.until:
            return None
        return next((span.arms for span in reversed(self.spans) if span.since <= day), None)


def summarize(resumed: Resumed, zone: str, today: date) -> Summary:
    """Work out what is shown from today on.

    Args:
        resumed: A fold that can be resumed at a day before today.
        zone: The client's time zone.
        today: The client's local day.
    """
    until = today + DAYS_AHEAD * ONE_DAY
    arms = {arm: dict(_days(resumed, arm, today, until)) for arm in ARMS if arm in resumed.course.arms()}
    spans: list[Span] = []
    for number in range(DAYS_AHEAD):
        day = today + number * ONE_DAY
        shown = tuple(days[day] for days in arms.values() if day in days)
        if not spans or spans[-1].arms != shown:
            spans.append(Span(day, shown))
    return Summary(zone, tuple(spans), until)


def _days(resumed: Resumed, arm: str, today: date, until: date) -> Iterator[tuple[date, ArmShown]]:
    """Yield each day on which an arm is shown: while its routine asks for it, and while it is held."""
    course, place = resumed.course, resumed.place(arm)
    facts, last = course.diary.of_arm(arm), resumed.last(arm, today)
    done, days = resumed.last(arm, today + ONE_DAY).session_on, course.run(arm, place, resumed.start, until)[0]
    modes = {day.on: day.state_before.mode for day in days if day.on >= today}
    for on in (today + number * ONE_DAY for number in range(DAYS_AHEAD)):
        known = facts.get(on, NOTHING)
        last = last.after(on, known)
        done = on + ONE_DAY if facts.get(on + ONE_DAY, NOTHING).sessions else done
        mode = "held" if on in modes and is_sharp(known) else modes.get(on)
        version = max(course.diary.version_on(on), place.version if place else 0)
        if mode is not None and (mode == "held" or _is_asked(course, arm, version)):
            yield on, ArmShown(arm, mode, last.morning, last.morning_on, done)


def _is_asked(course: Course, arm: str, version: int) -> bool:
    return arm in course.plans[version].client.arms


def work_out(db: Database, client: int, resumed: Resumed, today: date, zone: str) -> StoredSummary:
    """Return a client's summary as it is stored, inside the write or the read in which the log was folded."""
    told = msgspec.json.encode(summarize(resumed, zone, today)).decode()
    return StoredSummary(client, events.newest_seq(db, client), routines.newest_number(db, client), told)


def _read(told: str) -> Summary:
    return msgspec.json.decode(told, type=Summary)


@dataclass(frozen=True)
class Shown:
    """A client's local day, and what their arms show on it."""

    today: date
    arms: tuple[ArmShown, ...]


def always() -> bool:
    """Let every client be worked out, however long that takes."""
    return True


def shown_of_practitioner(
    db: Database, practitioner: int, now: datetime, may_go_on: Callable[[], bool] = always
) -> dict[int, Shown]:
    """Return what the caseload shows of each current client, by the client's row.

    What is missing, stale or does not reach today is worked out anew and kept.

    Args:
        db: The records.
        practitioner: Whose clients.
        now: The instant of the call, with a zone.
        may_go_on: Asked before each client that must be worked out; whoever comes after a false is left out.
    """
    kept = {client: _shown(told, now) for client, told in summaries.of_practitioner(db, practitioner).items()}
    anew = [client for client, shown in kept.items() if shown is None]
    return {client: shown for client, shown in kept.items() if shown} | _renewed(db, anew, now, may_go_on)


def renew(db: Database, clock: Callable[[], datetime], rest: Callable[[float], bool]) -> None:
    """Work out every client's summary that is missing, stale or does not reach today, one after the other.

    Args:
        db: The records.
        clock: Gives the instant, with a zone.
        rest: Called after each with the seconds that it took, so that others have as much time; true ends the work.
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


def _shown(told: str | None, now: datetime) -> Shown | None:
    if told is None:
        return None
    summary = _read(told)
    today = local_day(now, summary.zone)
    arms = summary.on(today)
    return None if arms is None else Shown(today, arms)


@dataclass(frozen=True)
class _Made:
    """One client's summary and the fold that it was made from, not kept yet."""

    today: date
    resumed: Resumed
    summary: StoredSummary


def _renewed(db: Database, clients: Sequence[int], now: datetime, may_go_on: Callable[[], bool]) -> dict[int, Shown]:
    """Fold outside any write, so that no phone waits for it; then keep it all in one short write."""
    made = [_made(db, client, now) for client in clients if may_go_on()]
    if made:
        with write(db):
            for one in made:
                checkpoint.keep(db, one.summary.client, one.resumed)
            summaries.keep(db, [one.summary for one in made])
    return {one.summary.client: Shown(one.today, _read(one.summary.told).on(one.today) or ()) for one in made}


def _made(db: Database, client: int, now: datetime) -> _Made:
    # A row says up to which entry it was made; one that an entry has overtaken meanwhile is stale, and never shown.
    with read(db):
        zone = zone_of(db, client)
        today = local_day(now, zone)
        resumed = checkpoint.resume(db, client, today - ONE_DAY)
        return _Made(today, resumed, work_out(db, client, resumed, today, zone))


def that_differ(db: Database) -> list[str]:
    """Compare each summary in use with one made from the whole log, whatever checkpoints are kept.

    Returns:
        The public ids of the clients whose summary says something else than their log; empty where all is well.
    """
    return [public_id for public_id, kept in summaries.not_stale(db) if _read(kept.told) != _from_whole_log(db, kept)]


def _from_whole_log(db: Database, kept: StoredSummary) -> Summary:
    summary = _read(kept.told)
    today = summary.spans[0].since
    return summarize(checkpoint.whole(db, kept.client, today - ONE_DAY), zone_of(db, kept.client), today)

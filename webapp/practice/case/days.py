"""The lists of the last days on the case page: closed days, sessions, and other loads that the client marked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, NamedTuple

from webapp.dosing.course import ClosedDay
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import EXPOSURES, HAPPENED
from webapp.events.sessions import Session, sessions
from webapp.practice.standing import Line
from webapp.records import events
from webapp.records.database import Database
from webapp.records.routines import RoutineVersion
from webapp.sync.log.diary import entries_of, of_phones

ONE_DAY = timedelta(days=1)
DAYS_OF_LOADS = 14
DAYS_OF_AWAYS = 120


@dataclass(frozen=True)
class SessionRow:
    """One row in the list of the last sessions.

    Attributes:
        session: The session as the log has it.
        is_one_of_two: Whether the client finished the session with one arm, although the routine has two arms.
    """

    session: Session
    is_one_of_two: bool

    @property
    def is_in_part(self) -> bool:
        """Whether the client did fewer steps than the session has."""
        return self.session.done_steps < self.session.asked_steps


def session_rows(
    db: Database, client: int, versions: Sequence[RoutineVersion], today: date, most: int
) -> list[SessionRow]:
    """List the sessions of today and the days before, the latest first.

    A session later than tomorrow comes from a phone whose clock was ahead. It would stay at the top for a long time, so it
    is left out.

    Args:
        db: The records.
        client: The client's key in the records.
        versions: The client's routine versions.
        today: The client's own local day.
        most: The number of days before today.
    """
    arms_of = {version.version: version.settings["arms"] for version in versions}
    logged = events.since_day(db, client, (today - most * ONE_DAY).isoformat())
    logged_sessions = sessions(of_phones(entries_of(logged)))
    return [_row(each, arms_of.get(each.routine, ())) for each in logged_sessions if each.on <= today + ONE_DAY]


def _row(session: Session, arms: Sequence[str]) -> SessionRow:
    return SessionRow(session, session.ended == "completed" and len(session.worst) < len(arms))


class Load(NamedTuple):
    """Something else that loaded the arm: sport, lifting or a long desk day.

    Attributes:
        kind: One of `EXPOSURES`.
        name: The client's own word for it; may be empty.
        minutes: How long it took, or None if unknown.
        is_planned: Whether the client wrote it down before it was done.
    """

    kind: str
    name: str
    minutes: int | None
    is_planned: bool


def loads_of(db: Database, client: int, today: date) -> list[tuple[date, list[Load]]]:
    """List the loads that the client marked in the last fourteen days, today included, the latest day first.

    Args:
        db: The records.
        client: The client's key in the records.
        today: The client's own local day. A mark later than tomorrow comes from a clock that was ahead, and is left out.
    """
    first = today - (DAYS_OF_LOADS - 1) * ONE_DAY
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, first.isoformat()))))
    marked: dict[date, dict[tuple[str, str], Load]] = {}
    for event in entries:
        if event.kind == "exposure_noted" and first <= event.on <= today + ONE_DAY:
            load = _load(event.body)
            loads = marked.setdefault(event.on, {})
            # A load that was marked on two phones counts once, with the longer time.
            loads[load[:2]] = max((loads.get(load[:2], load), load), key=lambda each: each.minutes or 0)
    return [(on, sorted(marked[on].values(), key=_by_kind)) for on in sorted(marked)[::-1]]


def _load(body: Mapping[str, Any]) -> Load:
    return Load(body["what"], body.get("name", "").strip(), body.get("minutes"), body.get("planned", False))


def _by_kind(load: Load) -> tuple[int, str]:
    return EXPOSURES.index(load.kind), load.name


class Away(NamedTuple):
    """Days without the app: the first, the last, their kind (of `AWAYS`), and what happened meanwhile (of `HAPPENED`)."""

    first: date
    last: date
    kind: str
    happened: tuple[str, ...]


def aways_of(db: Database, client: int, today: date) -> list[Away]:
    """List what the client told of days without the app in the last `DAYS_OF_AWAYS` days, the latest first."""
    since = (today - DAYS_OF_AWAYS * ONE_DAY).isoformat()
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, since))))
    aways = {_away(event.body) for event in entries if event.kind == "away_noted" and event.on <= today + ONE_DAY}
    return sorted(aways, reverse=True)


def _away(body: Mapping[str, Any]) -> Away:
    first, last = (date.fromisoformat(body[name]) for name in ("first", "last"))
    return Away(first, last, body["what"], tuple(each for each in HAPPENED if each in body.get("happened", ())))


class Late(NamedTuple):
    """What a morning report says beside its numbers: whether it came late, and whether there was more than soreness."""

    is_late: bool
    has_more: bool


def told_mornings(db: Database, client: int, today: date, most: int) -> dict[tuple[date, str], Late]:
    """Return, by the day that a morning report speaks of and the arm, what the report says beside its numbers."""
    since = (today - most * ONE_DAY).isoformat()
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, since))))
    return {
        (event.on - ONE_DAY, arm): Late(event.body.get("late", False), report.get("besides", False))
        for event in entries
        if event.kind == "morning_reported"
        for arm, report in event.body["arms"].items()
    }


def days_told(db: Database, client: int, today: date, most: int) -> dict[str, Any]:
    """Return what the client told of the last days beside the sessions, by the names that the page's templates use."""
    return {
        "loads": loads_of(db, client, today),
        "aways": aways_of(db, client, today),
        "told_mornings": told_mornings(db, client, today, most),
    }


def last_days(line: Line, most: int) -> list[tuple[date, list[tuple[str, ClosedDay]]]]:
    """List the last closed days, the newest first, each with its (arm, closed day) pairs."""
    by_day: dict[date, list[tuple[str, ClosedDay]]] = {}
    for stand in line.standings:
        for account in stand.account.days[-most:]:
            by_day.setdefault(account.on, []).append((stand.arm, account))
    return sorted(by_day.items(), reverse=True)[:most]

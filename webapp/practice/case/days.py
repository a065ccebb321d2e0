"""The lists of the last days on the case page: closed days, sessions, and other loads that the client marked."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from webapp.dosing.course import ClosedDay
from webapp.events.daybook import corrected_entries
from webapp.events.kinds import EXPOSURES
from webapp.events.sessions import Session, sessions
from webapp.practice.standing import Line
from webapp.records import events
from webapp.records.database import Database
from webapp.records.routines import RoutineVersion
from webapp.sync.diary import entries_of, of_phones

ONE_DAY = timedelta(days=1)
DAYS_OF_LOADS = 14


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
    """Something else that loaded the arm: sport, lifting or a long desk day; with its hours, or None if unknown."""

    kind: str
    hours: float | None


def loads_of(db: Database, client: int, today: date) -> list[tuple[date, list[Load]]]:
    """List the loads that the client marked in the last fourteen days, today included, the latest day first.

    Args:
        db: The records.
        client: The client's key in the records.
        today: The client's own local day. A mark later than tomorrow comes from a clock that was ahead, and is left out.
    """
    first = today - (DAYS_OF_LOADS - 1) * ONE_DAY
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, first.isoformat()))))
    marked: dict[date, dict[str, float | None]] = {}
    for event in entries:
        if event.kind == "exposure_noted" and first <= event.on <= today + ONE_DAY:
            loads, kind = marked.setdefault(event.on, {}), event.body["what"]
            # A load that was marked on two phones counts once, with the longer time.
            loads[kind] = max((loads.get(kind), event.body.get("hours")), key=lambda hours: hours or 0)
    return [
        (on, [Load(kind, marked[on][kind]) for kind in EXPOSURES if kind in marked[on]]) for on in sorted(marked)[::-1]
    ]


def last_days(line: Line, most: int) -> list[tuple[date, list[tuple[str, ClosedDay]]]]:
    """List the last closed days, the newest first, each with its (arm, closed day) pairs."""
    by_day: dict[date, list[tuple[str, ClosedDay]]] = {}
    for stand in line.standings:
        for account in stand.account.days[-most:]:
            by_day.setdefault(account.on, []).append((stand.arm, account))
    return sorted(by_day.items(), reverse=True)[:most]

"""What the case page lists of the last days: closed days, sessions, and other loads that the client marked."""

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
    """One session among the last.

    Attributes:
        session: What the log says of it.
        is_one_of_two: Whether it was done to its end with one arm, where its routine asks for two.
    """

    session: Session
    is_one_of_two: bool

    @property
    def is_in_part(self) -> bool:
        """Say whether some of what was asked was not done."""
        return self.session.done_steps < self.session.asked_steps


def session_rows(
    db: Database, client: int, versions: Sequence[RoutineVersion], today: date, most: int
) -> list[SessionRow]:
    """List the sessions of today and of the days before, the latest first.

    A session further off than tomorrow is of a clock that stood ahead, and would stand first for ever: it is left out.

    Args:
        db: The records.
        client: Whose.
        versions: The client's routine versions.
        today: The client's own local day.
        most: How many days before today.
    """
    asked = {version.version: version.settings["arms"] for version in versions}
    logged = events.since_day(db, client, (today - most * ONE_DAY).isoformat())
    told = sessions(of_phones(entries_of(logged)))
    return [_row(each, asked.get(each.routine, ())) for each in told if each.on <= today + ONE_DAY]


def _row(told: Session, asked: Sequence[str]) -> SessionRow:
    return SessionRow(told, told.ended == "completed" and len(told.worst) < len(asked))


class Load(NamedTuple):
    """Something else that loaded the arm: sport, lifting or a long desk day; its hours, or None where not said."""

    what: str
    hours: float | None


def loads_of(db: Database, client: int, today: date) -> list[tuple[date, list[Load]]]:
    """List what the client marked in the last fourteen days, today among them, the latest day first.

    Args:
        db: The records.
        client: Whose.
        today: The client's own local day. A mark further off than tomorrow is of a clock that stood ahead: it is left out.
    """
    first = today - (DAYS_OF_LOADS - 1) * ONE_DAY
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, first.isoformat()))))
    marked: dict[date, dict[str, float | None]] = {}
    for event in entries:
        if event.kind == "exposure_noted" and first <= event.on <= today + ONE_DAY:
            loads, what = marked.setdefault(event.on, {}), event.body["what"]
            # Marked on two phones, a load is one load; the longer time counts.
            loads[what] = max((loads.get(what), event.body.get("hours")), key=lambda hours: hours or 0)
    return [
        (on, [Load(what, marked[on][what]) for what in EXPOSURES if what in marked[on]]) for on in sorted(marked)[::-1]
    ]


def last_days(line: Line, most: int) -> list[tuple[date, list[tuple[str, ClosedDay]]]]:
    """List the last closed days, newest first, each with the accounts of its arms."""
    by_day: dict[date, list[tuple[str, ClosedDay]]] = {}
    for stand in line.standings:
        for account in stand.account.days[-most:]:
            by_day.setdefault(account.on, []).append((stand.arm, account))
    return sorted(by_day.items(), reverse=True)[:most]

"""The last sessions of a client, one row each, as the case page lists them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.events.sessions import Session, sessions
from webapp.records import events
from webapp.records.database import Database
from webapp.records.routines import RoutineVersion
from webapp.sync.diary import entries_of, of_phones

ONE_DAY = timedelta(days=1)


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

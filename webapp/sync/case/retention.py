"""Removing clients whose course ended so many years ago, as their practice has set it.

A client counts as ended from the first day of an ended course, and from the last entry of the log where that is later.
Who is only silent, or in the archive, has not ended: nobody has decided that the records may go. They are named instead.
Nobody is removed within a week after the years were chosen or the clock jumped. A client whose log cannot be read stays, and stops
nobody else's removal.
"""

from datetime import date, datetime
from typing import NamedTuple

from webapp.events.course_set import course_on
from webapp.records import carrying, events, keeping, removal
from webapp.records.database import Database
from webapp.sync.case.finishing import courses_of
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.log.local_day import local_day, zone_of

LONG_ENOUGH = "kept_long_enough"
WAITS_DAYS = 7
"""So many days pass between a choice of years, or a jump of the clock, and the first removal: time to notice a mistake (own choice)."""


class Due(NamedTuple):
    """A client who has ended: the key, the name, and the day on which the records are removed."""

    client: int
    name: str
    on: date


def due(db: Database, now: datetime, practice: int | None = None) -> list[Due]:
    """List who has ended in practices that remove, the soonest first.

    Args:
        db: The records.
        now: The instant of the call, with a zone.
        practice: Only clients of this practice; None for all.
    """
    found = []
    for client, name, years in keeping.clients_with_years(db, practice):
        ended_on = _ended_on(db, client, now)
        if ended_on:
            found.append(Due(client, name, _years_later(ended_on, years)))
    return sorted(found, key=lambda each: (each.on, each.client))


class Quiet(NamedTuple):
    """A client who has not ended, and of whom nothing came for as many years as the practice keeps who has ended.

    Attributes:
        public_id: The client's public id.
        name: The client's name.
        last_on: The day of the last entry; of an empty log the day on which the client was added.
    """

    public_id: str
    name: str
    last_on: date


def quiet(db: Database, now: datetime, practitioner: int, years: int | None) -> list[Quiet]:
    """List a practitioner's clients who are kept though nothing came from them for years, the longest silence first.

    Args:
        db: The records.
        now: The instant of the call, with a zone.
        practitioner: The practitioner's key.
        years: After how many years who has ended is removed; None for never.
    """
    found = []
    for client in carrying.keys(db, practitioner) if years else ():
        person, today = carrying.whole_person(db, client), local_day(now, zone_of(db, client))
        last = events.last_day(db, client, today.isoformat()) or str(person["created_at"])[: len("2026-03-02")]
        is_long = _years_later(date.fromisoformat(last), years or 0) <= today
        if is_long and _ended_on(db, client, now) is None:
            found.append(Quiet(str(person["public_id"]), str(person["name"]), date.fromisoformat(last)))
    return sorted(found, key=lambda each: (each.last_on, each.name))


def _ended_on(db: Database, client: int, now: datetime) -> date | None:
    today = local_day(now, zone_of(db, client))
    try:
        course = course_on(courses_of(db, client), today)
    except FAULTS_OF_A_FOLD:
        return None
    if course.to != "ended" or course.since is None:
        return None
    last = events.last_day(db, client, today.isoformat())
    return max(course.since, date.fromisoformat(last)) if last else course.since


def _years_later(on: date, years: int) -> date:
    try:
        return on.replace(year=on.year + years)
    except ValueError:
        # The 29th of February, in a year that has none.
        return on.replace(year=on.year + years, month=3, day=1)


def remove_due(db: Database, now: datetime) -> int:
    """Remove everybody whose day has come; return how many were removed."""
    ready = [each for each in due(db, now) if each.on <= local_day(now, "UTC")]
    for each in ready:
        removal.remove(db, each.client, LONG_ENOUGH, now)
    return len(ready)


class Daily:
    """Removes who is due once a day, however often it is asked; and writes the file anew where an earlier removal asks for it."""

    def __init__(self) -> None:
        self._done_on: date | None = None

    def remove(self, db: Database, now: datetime) -> None:
        """Do the day's work unless it was done."""
        today = local_day(now, "UTC")
        if self._done_on == today:
            return
        removal.tidy_up(db)
        if keeping.steady_days(db, today) >= WAITS_DAYS:
            remove_due(db, now)
        self._done_on = today

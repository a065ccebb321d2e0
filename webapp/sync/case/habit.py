"""The one habit of a client: which is chosen now, and choosing another. It changes no dose and no version of the routine."""

import json
from datetime import datetime
from typing import NamedTuple

from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log import practice_events
from webapp.sync.log.local_day import local_day, zone_of

_ALL = -1


class HabitMovedError(Exception):
    """Another habit was chosen after the page was shown; nothing was written."""


class HabitChoice(NamedTuple):
    """The newest choice: the id of its entry, the entry's number in the log, and the habit; "" and 0 where none was chosen yet."""

    id: str
    seq: int
    habit: str


NO_CHOICE = HabitChoice("", 0, "")


def choice_of(db: Database, client: int, seen: str | None = None) -> HabitChoice:
    """Return a client's newest choice, or the one whose id is `seen`."""
    choices = events.latest_of(db, client, ("habit_chosen",), _ALL)
    wanted = (event for event in choices if seen is None or event.id == seen)
    found = max(wanted, key=lambda event: event.seq, default=None)
    return HabitChoice(found.id, found.seq, str(json.loads(found.raw)["body"]["habit"])) if found else NO_CHOICE


def choose(db: Database, client: int, habit: str, seen: str, by: str, *, now: datetime) -> None:
    """Choose a habit, inside a write; one that is chosen already is not chosen again.

    Args:
        db: The records.
        client: The client's key.
        habit: The id of a habit, "" for none.
        seen: The id of the choice that the practitioner has read.
        by: The practitioner's name.
        now: The instant of the call, in UTC.

    Raises:
        HabitMovedError: Another one was chosen meanwhile.
    """
    newest = choice_of(db, client)
    if newest.habit == habit:
        return
    if newest.id != seen:
        raise HabitMovedError
    on = local_day(now, zone_of(db, client))
    practice_events.put(db, client, "habit_chosen", on, {"habit": habit, "by": by}, now)

"""The one habit of a client on the case page: what is chosen, whether a phone has it, its last days."""

from datetime import date
from typing import NamedTuple

from webapp.events.daybook import corrected_entries
from webapp.library.habits import Habit, the_habits
from webapp.practice.case.days import ONE_DAY
from webapp.records import devices, events
from webapp.records.database import Database
from webapp.sync.case.habit import choice_of
from webapp.sync.log.diary import entries_of, of_phones

WEEK = 7
ALL = -1


class HabitShown(NamedTuple):
    """The habit that is chosen or None, its last seven days (day, kept), whether it does not suit the client, whether a phone has it."""

    chosen: Habit | None
    days: list[tuple[date, bool]]
    is_unsuited: bool
    has_arrived: bool


def habit_of(db: Database, client: int, today: date) -> HabitShown:
    """Return what the case page shows of a client's habit."""
    newest = choice_of(db, client)
    habit = the_habits().get(newest.habit)
    if habit is None:
        return HabitShown(None, [], is_unsuited=False, has_arrived=False)
    first = today - (WEEK - 1) * ONE_DAY
    logged = events.latest_of(db, client, ("habit_noted", "entry_corrected"), ALL)
    entries = corrected_entries(of_phones(entries_of(logged)))
    noted = [event for event in entries if event.kind == "habit_noted" and event.body["habit"] == habit.id]
    kept = {event.on for event in noted if event.body["kept"]}
    is_unsuited = any(not event.body.get("suits", True) and event.body.get("chosen") == newest.id for event in noted)
    days = [(on, on in kept) for on in (first + number * ONE_DAY for number in range(WEEK))]
    sent = (devices.furthest_sent(db, phone.id) or 0 for phone in devices.of_client(db, client))
    return HabitShown(habit, days, is_unsuited, any(seq >= newest.seq for seq in sent))

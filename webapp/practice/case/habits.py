"""The one habit that the practitioner chooses for a client: what is chosen, its last days, and the form that chooses."""

import json
from datetime import date
from typing import NamedTuple

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.events.daybook import corrected_entries
from webapp.library.habits import Habit, the_habits
from webapp.practice import desk
from webapp.practice.case.days import ONE_DAY
from webapp.practice.forms.entries import LONGEST_NAME, ButtonForm
from webapp.records import events
from webapp.records.cases import Case
from webapp.records.database import Database, write
from webapp.records.events import LoggedEvent
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of, of_phones
from webapp.sync.log.local_day import local_day

WEEK = 7
ALL = -1


class HabitShown(NamedTuple):
    """The habits to choose from, the one that is chosen, its last seven days (day, kept), whether it does not suit the client, and the choice's id."""

    offered: list[Habit]
    chosen: Habit | None
    days: list[tuple[date, bool]]
    is_unsuited: bool
    seen: str


def habit_of(db: Database, client: int, today: date) -> HabitShown:
    """Return what the case page shows of a client's habit."""
    newest = _newest(db, client)
    habit = the_habits().get(_chosen_by(newest)) if newest else None
    if newest is None or habit is None:
        return HabitShown(list(the_habits().values()), None, [], is_unsuited=False, seen=newest.id if newest else "")
    first = today - (WEEK - 1) * ONE_DAY
    logged = events.latest_of(db, client, ("habit_noted", "entry_corrected"), ALL)
    entries = corrected_entries(of_phones(entries_of(logged)))
    noted = [event for event in entries if event.kind == "habit_noted" and event.body["habit"] == habit.id]
    kept = {event.on for event in noted if event.body["kept"]}
    is_unsuited = any(not event.body.get("suits", True) and event.body.get("chosen") == newest.id for event in noted)
    days = [(on, on in kept) for on in (first + number * ONE_DAY for number in range(WEEK))]
    return HabitShown(list(the_habits().values()), habit, days, is_unsuited, newest.id)


def _newest(db: Database, client: int) -> LoggedEvent | None:
    choices = events.latest_of(db, client, ("habit_chosen",), ALL)
    return max(choices, key=lambda event: event.seq, default=None)


def _chosen_by(choice: LoggedEvent) -> str:
    return str(json.loads(choice.raw)["body"]["habit"])


def choose_habit(public_id: str) -> Response:
    """Choose a habit for a client, or none; the phones get it in their next sync. The same form sent twice chooses once."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    chosen = request.form.get("habit", "")
    if chosen and chosen not in the_habits():
        abort(400)
    db, now = desk.records(), desk.now()
    with write(db):
        newest = _newest(db, case.id)
        if request.form.get("seen", "") != (newest.id if newest else ""):
            is_done = newest is not None and _chosen_by(newest) == chosen
            return _back(case, chosen, "" if is_done else "habit_moved")
        by = desk.signed_in().name[:LONGEST_NAME]
        practice_events.put(db, case.id, "habit_chosen", local_day(now, desk.zone()), {"habit": chosen, "by": by}, now)
    return _back(case, chosen)


def _back(case: Case, chosen: str, instead: str = "") -> Response:
    desk.say_later(instead or ("habit_chosen" if chosen else "habit_none"))
    return desk.back_to_case(case)

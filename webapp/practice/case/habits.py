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
from webapp.records.database import Database, write
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of, of_phones
from webapp.sync.log.local_day import local_day

WEEK = 7
ALL = -1


class HabitShown(NamedTuple):
    """The habits to choose from, the one that is chosen, its last seven days (day, kept), and whether it does not suit the client."""

    offered: list[Habit]
    chosen: Habit | None
    days: list[tuple[date, bool]]
    is_unsuited: bool


def habit_of(db: Database, client: int, today: date) -> HabitShown:
    """Return what the case page shows of a client's habit."""
    choices = events.latest_of(db, client, ("habit_chosen",), ALL)
    newest = max(choices, key=lambda event: event.seq, default=None)
    habit = the_habits().get(json.loads(newest.raw)["body"]["habit"]) if newest else None
    if newest is None or habit is None:
        return HabitShown(list(the_habits().values()), None, [], is_unsuited=False)
    first = today - (WEEK - 1) * ONE_DAY
    logged = events.latest_of(db, client, ("habit_noted", "entry_corrected"), ALL)
    entries = corrected_entries(of_phones(entries_of(logged)))
    noted = [event for event in entries if event.kind == "habit_noted" and event.body["habit"] == habit.id]
    kept = {event.on for event in noted if event.body["kept"]}
    is_unsuited = any(not event.body.get("suits", True) and event.body.get("chosen") == newest.id for event in noted)
    days = [(on, on in kept) for on in (first + number * ONE_DAY for number in range(WEEK))]
    return HabitShown(list(the_habits().values()), habit, days, is_unsuited)


def choose_habit(public_id: str) -> Response:
    """Choose a habit for a client, or none; the phones get it in their next sync."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    chosen = request.form.get("habit", "")
    if chosen and chosen not in the_habits():
        abort(400)
    db, now = desk.records(), desk.now()
    with write(db):
        by = desk.signed_in().name[:LONGEST_NAME]
        practice_events.put(db, case.id, "habit_chosen", local_day(now, desk.zone()), {"habit": chosen, "by": by}, now)
    desk.say_later("habit_chosen" if chosen else "habit_none")
    return desk.back_to_case(case)

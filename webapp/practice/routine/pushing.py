"""The push: a new version, the habit, or both, in one write; the next page says what was done."""

from webapp.practice import desk
from webapp.practice.forms.entries import LONGEST_NAME
from webapp.practice.routine.preview import Draft, is_nothing, is_only_habit
from webapp.practice.standing import Line
from webapp.records import drafts, routines
from webapp.records.database import write
from webapp.records.routines import RoutineVersion
from webapp.sync.case import habit


def push(line: Line, newest: RoutineVersion | None, draft: Draft, habit_seen: str) -> None:
    """Store a draft; where only the habit differs, no new version is made, and where nothing does, nothing is stored.

    Raises:
        OvertakenError: Another version was pushed meanwhile.
        HabitMovedError: Another habit was chosen meanwhile.
    """
    db, me, now, case = desk.records(), desk.signed_in(), desk.now(), line.case
    # A form that is sent twice was made when another habit was chosen; the second time must make no version of it.
    before = habit.choice_of(db, case.id, habit_seen).habit
    if newest and is_nothing(newest, draft, line, before):
        desk.say_later("unchanged", newest.version)
        return
    is_version = not is_only_habit(newest, draft, line, before)
    with write(db):
        routines.check_follows(db, case.id, newest)
        habit.choose(db, case.id, draft.habit, habit_seen, me.name[:LONGEST_NAME], now=now)
        if is_version:
            pushed = routines.put(db, case.id, draft.routine, draft.settings, draft.note, me.id, now)
        drafts.drop(db, me.id, case.id)
    if is_version:
        desk.say_later("pushed", pushed.version)
    else:
        desk.say_later("habit_chosen" if draft.habit else "habit_none")

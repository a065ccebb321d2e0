"""The preview of a change before it is pushed: differences, start rungs, effects today, the ladder."""

import hashlib
import json
from collections.abc import Mapping
from functools import partial
from typing import Any, NamedTuple

from webapp.dosing.figures import WARN_SHARE_OF_MAXIMUM
from webapp.dosing.ladder import Rung
from webapp.dosing.plan import Plan, start_rung
from webapp.library.habits import the_habits
from webapp.practice import desk
from webapp.practice.routine.differences import Difference, differences
from webapp.practice.routine.effects import PushEffects
from webapp.practice.routine.form import completed
from webapp.practice.routine.ladder import flights, gaps
from webapp.practice.routine.ladder_plot import ladder_plots
from webapp.practice.routine.own import named
from webapp.practice.routine.weeks_ahead import ArmPush, courses_of, forecasts
from webapp.practice.show import weights_said
from webapp.practice.standing import Line
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle.bundle import Prescribed
from webapp.sync.bundle.plans import plan_of
from webapp.sync.case.habit import choice_of
from webapp.sync.case.notes import notes_read
from webapp.words.amounts import load_text, number_text, range_text
from webapp.words.catalogue import mark

HABIT = "habit"
YES_OR_NO = {True: mark("yes"), False: mark("no")}


class Draft(NamedTuple):
    """A routine, its settings, a note and the habit from the form, checked and ready to be stored."""

    routine: Mapping[str, Any]
    settings: Mapping[str, Any]
    note: str
    habit: str = ""

    @property
    def digest(self) -> str:
        """A short hash of the draft. A push is refused if its draft differs from that of the preview."""
        return hashlib.sha256(json.dumps(_as_decimals(self), sort_keys=True).encode()).hexdigest()[:16]


def _as_decimals(value: Any) -> Any:
    """Return a value with 8 written as 8.0, since a form that was sent and a stored version may differ in that."""
    if isinstance(value, Mapping):
        return {key: _as_decimals(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [_as_decimals(each) for each in value]
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


OWN_VERSION = mark("%(name)s, version %(number)s")


def shows(names: Mapping[str, str], field: str, value: Any) -> str:
    """Return an entry's value as a text for people; `names` are those of movements, by the form's value."""
    if field == "weights":
        return weights_said(value)
    if field == "own_movement":
        return desk.words().say(OWN_VERSION, name=value[0], number=value[1])
    if field == HABIT:
        return desk.words().say(the_habits()[value].name) if value else ""
    if isinstance(value, bool):
        return desk.words().say(YES_OR_NO[value])
    if isinstance(value, (list, tuple)):
        return desk.words().listed([names.get(each, str(each)) for each in value])
    return number_text(desk.words(), value) if isinstance(value, (int, float)) else str(value)


def parts(newest: RoutineVersion | None, prescription: Prescribed, draft: Draft, push: PushEffects) -> dict[str, Any]:
    """Return what the page shows of a draft.

    Args:
        newest: The newest version pushed, or None.
        prescription: The draft, fitted to the client.
        draft: The draft itself.
        push: The effects of the draft on the client today.
    """
    choice = choice_of(desk.records(), push.line.case.id)
    changed, is_rung_given = _changes(newest, draft, choice.habit), _is_rung_given(newest, draft, push.line)
    is_alone = is_only_habit(newest, draft, push.line, choice.habit)
    names = named(draft.routine, newest.routine if newest else {})
    return {
        "next_version": prescription.version,
        "digest": draft.digest,
        "differences": changed,
        "note": draft.note,
        "is_note_unread": not is_alone and _is_note_unread(push.line.case, newest, draft),
        "is_only_note": not is_rung_given and _is_only_note(newest, changed, draft),
        "same": not is_rung_given and _is_same(newest, changed, draft),
        "is_rung_given": is_rung_given,
        "habit_seen": choice.id,
        "is_only_habit": is_alone,
        "starts": _starts(prescription.plan),
        "names": names,
        "shows": partial(shows, names),
        **_push_parts(push),
        **_ladder(prescription),
        **_plots(newest, prescription, push),
    }


def is_nothing(newest: RoutineVersion | None, draft: Draft, line: Line, before: str) -> bool:
    """Whether a draft is in everything what the client has already; the arguments are those of `is_only_habit`."""
    return _is_same(newest, _changes(newest, draft, before), draft) and not _is_rung_given(newest, draft, line)


def _starts(plan: Plan) -> list[tuple[str, Rung]]:
    """List the start rung of each arm."""
    return [(arm, plan.ladder.rung(start_rung(plan, arm))) for arm in plan.client.arms]


def _push_parts(push: PushEffects) -> dict[str, Any]:
    words, standings = desk.words(), push.line.standings
    return {
        "line": push.line,
        "seal": push.seal,
        "effects": push.effects,
        "load_before": {stand.arm: partial(load_text, words, weights=stand.weights) for stand in standings},
        "range_text": partial(range_text, words),
    }


def _changes(newest: RoutineVersion | None, draft: Draft, habit: str) -> list[Difference]:
    """Compare with the newest version and, for the habit, with the one that is chosen."""
    chosen = [Difference(HABIT, habit, draft.habit)] if habit != draft.habit else []
    if newest is None:
        return chosen
    return [*differences((completed(newest.routine), newest.settings), (draft.routine, draft.settings)), *chosen]


def is_only_habit(newest: RoutineVersion | None, draft: Draft, line: Line, before: str) -> bool:
    """Whether the draft differs by its habit alone from what its page showed, so that no new version is needed.

    A note that was left empty takes none away then.

    Args:
        newest: The newest version, or None.
        draft: The draft.
        line: The client today.
        before: The habit that was chosen when the page was shown.
    """
    changed = _changes(newest, draft, before)
    is_alone = [each.field for each in changed] == [HABIT]
    return bool(newest and is_alone and draft.note in ("", newest.note) and not _is_rung_given(newest, draft, line))


def _is_rung_given(newest: RoutineVersion | None, draft: Draft, line: Line) -> bool:
    """Whether the draft moves an arm that has begun, or changes the start rung of an arm that has not begun."""
    begun = {stand.arm for stand in line.standings}
    before = newest.settings["start_rungs"] if newest else {}
    return bool(draft.settings["start_rungs"] != {arm: rung for arm, rung in before.items() if arm not in begun})


def _is_same(newest: RoutineVersion | None, changed: list[Difference], draft: Draft) -> bool:
    return bool(newest and not changed and draft.note == newest.note)


def _is_only_note(newest: RoutineVersion | None, changed: list[Difference], draft: Draft) -> bool:
    return bool(newest and not changed and draft.note != newest.note)


def _is_note_unread(case: Case, newest: RoutineVersion | None, draft: Draft) -> bool:
    """Whether the push would replace a note that the client has not read yet."""
    if newest is None or newest.note in ("", draft.note):
        return False
    return newest.version not in notes_read(desk.records(), case.id)


def _ladder(prescription: Prescribed) -> dict[str, Any]:
    return {
        "ladder": prescription.plan.ladder,
        "flights": flights(prescription.plan),
        "gaps": gaps(desk.words(), prescription.plan, prescription.weights),
        "warn_share": WARN_SHARE_OF_MAXIMUM.value,
        "top_share": prescription.plan.tuning.top_share,
        "load": partial(load_text, desk.words(), weights=prescription.weights),
        "kilograms": partial(load_text, desk.words()),
    }


def _courses(newest: RoutineVersion | None, prescription: Prescribed, push: PushEffects) -> list[ArmPush]:
    return courses_of(push.line.standings, plan_of(newest) if newest else None, prescription.plan)


def _plots(newest: RoutineVersion | None, prescription: Prescribed, push: PushEffects) -> dict[str, Any]:
    old = plan_of(newest) if newest else None
    return {"ladder_plots": ladder_plots(old, prescription.plan, _courses(newest, prescription, push))}


def weeks(newest: RoutineVersion | None, prescription: Prescribed, push: PushEffects) -> dict[str, Any]:
    """Return the weeks ahead of each arm, drawn and in figures; the arguments are those of `parts`."""
    return {"forecasts": forecasts(_courses(newest, prescription, push))}

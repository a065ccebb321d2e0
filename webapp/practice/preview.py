"""What a change of routine would do, told before it is pushed: differences, where the arms begin, the ladder."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from flask import render_template, request

from webapp.dosing.faults import Fault
from webapp.dosing.figures import WARN_SHARE_OF_MAXIMUM
from webapp.dosing.plan import carry_over, start_rung
from webapp.practice import desk
from webapp.practice.case import line_for, movement_names, weights_said
from webapp.practice.differences import differences
from webapp.practice.ladder import flights, gaps
from webapp.practice.routine_form import RoutineForm, completed
from webapp.practice.standing import Line
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle import Prescribed
from webapp.words.amounts import load_text, number_text

NOT_CARRIED = frozenset({"csrf_token", "step", "previewed", "accepted_jumps"})


def _carried() -> list[tuple[str, str]]:
    """Give every entry as it was sent, for the preview to send on; jumps are ticked on the preview itself."""
    return [(name, value) for name, value in request.form.items(multi=True) if name not in NOT_CARRIED]


def _shows(field: str, value: Any) -> str:
    """Tell an entry of the desk as a person reads it."""
    names = movement_names()
    if field == "weights":
        return weights_said(value)
    if isinstance(value, (list, tuple)):
        return ", ".join(names.get(each, str(each)) for each in value)
    return number_text(desk.words(), value) if isinstance(value, (int, float)) else str(value)


def _carried_rungs(line: Line, given: Prescribed) -> dict[str, int]:
    """Say for each arm on which rung of the new ladder it would carry on."""
    return {stand.arm: carry_over(stand.account.plan, given.plan, stand.account.state).rung for stand in line.standings}


def page(
    case: Case,
    newest: RoutineVersion | None,
    form: RoutineForm,
    given: Prescribed,
    draft: tuple[Mapping[str, Any], Mapping[str, Any], str],
    digest: str,
    said_again: Fault | None,
) -> str:
    """Write the preview of a draft (routine, settings, note), fitted to the client as `given`."""
    line, changed = line_for(case), _changes(newest, draft)
    return render_template(
        "pages/practice_preview.html",
        shown=case,
        newest=newest,
        next_version=given.version,
        form=form,
        line=line,
        carried=_carried(),
        digest=digest,
        said_again=said_again,
        differences=changed,
        same=_is_same(newest, changed, draft),
        begins_on=draft[1]["start_rung"],
        carried_rungs=_carried_rungs(line, given),
        start=start_rung(given.plan),
        names=movement_names(),
        shows=_shows,
        **_ladder(given),
    )


def _changes(newest: RoutineVersion | None, draft: Sequence[Any]) -> list[Any]:
    if newest is None:
        return []
    return differences((completed(newest.routine), newest.settings), (draft[0], draft[1]))


def _is_same(newest: RoutineVersion | None, changed: list[Any], draft: Sequence[Any]) -> bool:
    return bool(newest and not changed and draft[2] == newest.note and not draft[1]["start_rung"])


def _ladder(given: Prescribed) -> dict[str, Any]:
    return {
        "ladder": given.plan.ladder,
        "flights": flights(given.plan),
        "gaps": gaps(desk.words(), given.plan, given.weights),
        "warn_share": WARN_SHARE_OF_MAXIMUM.value,
        "top_share": given.plan.tuning.top_share,
        "load": partial(load_text, desk.words(), weights=given.weights),
        "kilograms": partial(load_text, desk.words()),
    }

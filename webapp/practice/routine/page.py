"""The routine desk: a form with the newest version, the preview of a change, and the push."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from flask import redirect, render_template, request, url_for
from werkzeug.datastructures import MultiDict
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.settings import DIRECTION_OF
from webapp.library.faults import NotAcceptedError
from webapp.library.habits import the_habits
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import START_FIELDS, put_beside, start_field
from webapp.practice.routine import looking, preview, pushing
from webapp.practice.routine.effects import Effect, PushEffects, barred, effects_of_push
from webapp.practice.routine.form import (
    DIRECTION_FIELDS,
    TEMPO,
    TUNING,
    OfferedMovements,
    RoutineForm,
    entries_of,
    routine_form,
    routine_of,
    settings_of,
)
from webapp.practice.routine.own import OwnChoices, named_choices, own_choices
from webapp.practice.routine.preview import Draft
from webapp.practice.routine.starts import beginning, offered
from webapp.practice.standing import Line, line_for
from webapp.records import routines
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle.bundle import Prescribed, prescribed
from webapp.sync.case.correcting import OF_THE_DOSE
from webapp.sync.case.habit import HabitMovedError, choice_of
from webapp.words import words_for
from webapp.words.catalogue import mark

NO_HABIT = mark("none")
OTHERWISE_CALLED = {"weights_kg": "weights", "directions": DIRECTION_FIELDS[-1], **START_FIELDS}


def _movements(routine: Mapping[str, Any], own: OwnChoices) -> OfferedMovements:
    """Return the movements that the form offers, the warm-ups of the routine first, in its order."""
    chosen = [each["movement"] for each in routine["warm_ups"]]
    warm_ups = [*the_shelf().of_kind("warm_up"), *own.of_kind("warm_up")]
    return OfferedMovements(
        [*DIRECTION_OF, *own.of_kind("lift")],
        chosen + [other for other in warm_ups if other not in chosen],
        [*the_shelf().of_kind("stretch"), *own.of_kind("stretch")],
    )


def _form(
    case: Case, newest: RoutineVersion | None, line: Line, drafted: MultiDict[str, str] | None
) -> tuple[RoutineForm, Mapping[str, Any]]:
    routine, settings = beginning(case, newest, request.args.get("start", ""))
    own = own_choices(routine, request.form if drafted is None else drafted)
    movements = _movements(routine, own)
    entries = entries_of(routine, settings, movements.warm_ups, own)
    # Only an arm that has not begun yet still has a start rung.
    begun = {stand.arm for stand in line.standings}
    entries |= {start_field(arm): rung for arm, rung in settings["start_rungs"].items() if arm not in begun}
    chosen = choice_of(desk.records(), case.id).habit
    entries["habit"] = chosen if chosen in the_habits() else ""
    entries["based_on"] = str(newest.version) if newest else ""
    form = routine_form(movements, settings["arms"], desk.bounds(), entries, drafted)
    form.own = own
    return form, settings


def edit(public_id: str) -> Response | tuple[str, int] | str:
    """Show the form with what its entries would do, keep them for a look at that, or push them."""
    case = desk.known_case(public_id)
    newest = routines.latest(desk.records(), case.id)
    line, drafted = line_for(case), looking.drafted(case)
    form, settings = _form(case, newest, line, drafted)
    if not form.is_submitted() and drafted is None:
        return _opened(line, newest, form, settings)
    if not form.validate():
        return _page(line, newest, form), 400
    return _decided(
        line, newest, form, Draft(routine_of(form), settings_of(form, settings), form.note.data, form["habit"].data)
    )


def _opened(line: Line, newest: RoutineVersion | None, form: RoutineForm, settings: Mapping[str, Any]) -> str:
    """Show the form as it is opened, with what it would do; without that where the entries have a fault by now."""
    draft = Draft(routine_of(form), settings_of(form, settings), form.note.data, form["habit"].data)
    version = routines.next_version(desk.records(), line.case.id)
    try:
        prescription = prescribed(draft.routine, draft.settings, version, draft.note)
    except NotAcceptedError:
        return _page(line, newest, form)
    shown = preview.parts(newest, prescription, draft, effects_of_push(line, prescription.plan))
    # Nothing was typed yet: that the form has no note does not mean that the note of the version is to go.
    is_corrected = any(each.field in OF_THE_DOSE for each in shown["differences"])
    is_untouched = newest and not request.args.get("start") and not is_corrected
    untouched = {"same": True, "is_only_note": False, "is_note_unread": False} if is_untouched else {}
    return _page(line, newest, form, shown | untouched)


def _decided(
    line: Line, newest: RoutineVersion | None, form: RoutineForm, draft: Draft
) -> Response | tuple[str, int] | str:
    version = routines.next_version(desk.records(), line.case.id)
    try:
        prescription = prescribed(draft.routine, draft.settings, version, draft.note)
    except NotAcceptedError as error:
        put_beside(form, error.faults, OTHERWISE_CALLED)
        return _page(line, newest, form), 400
    push, case = effects_of_push(line, prescription.plan), line.case
    faults = [
        *_rung_faults(draft.settings["start_rungs"], prescription.plan.ladder.top, push.effects),
        *_unsaid(draft, push),
    ]
    for fault in faults:
        form[fault.field].errors = [fault]
    if faults:
        return _page(line, newest, form), 400
    said_again = _held_up(newest, form, draft, push)
    if looking.is_to_keep():
        return looking.keep(case)
    if looking.step() != "push" or said_again:
        shown = _page(line, newest, form, _parts(newest, prescription, draft, push), said_again)
        return (shown, 409) if said_again else shown
    try:
        pushing.push(line, newest, draft, form.habit_seen.data or "")
    except (routines.OvertakenError, HabitMovedError):
        # The form names the version and the habit that it was made from, so this look says that there is a newer one.
        return edit(case.public_id)
    return redirect(url_for("practice.case.show", public_id=case.public_id), 303)


def _parts(newest: RoutineVersion | None, prescription: Prescribed, draft: Draft, push: PushEffects) -> dict[str, Any]:
    """Return what the entries would do; the weeks ahead only where they were asked for, since they take a while."""
    shown = preview.parts(newest, prescription, draft, push)
    return shown | preview.weeks(newest, prescription, push) if looking.step() == "weeks" else shown


def _rung_faults(rungs: Mapping[str, int], top: int, effects: Sequence[Effect]) -> Iterator[Fault]:
    """Yield, arm by arm, the fault of a rung that the practitioner chose and the arm cannot have."""
    effect_of = {effect.arm: effect for effect in effects}
    for arm, rung in rungs.items():
        field, effect = start_field(arm), effect_of.get(arm)
        if effect and effect.mode == "held":
            yield Fault("held_arm", field, rung, (arm,))
        elif rung > top:
            yield Fault("no_such_rung", field, rung, (top,))
        elif effect and effect.is_rise_too_soon:
            yield Fault("rise_too_soon", field, rung, (arm, effect.troubled_on, effect.again_on))


def _unsaid(draft: Draft, push: PushEffects) -> Iterator[Fault]:
    """Yield a fault where an arm is to be raised by hand and the note does not say why."""
    is_raised = any(effect.is_chosen and effect.is_rise for effect in push.effects)
    if is_raised and not draft.note and looking.step() == "push":
        yield Fault("rise_unsaid", "note", "")


def _held_up(newest: RoutineVersion | None, form: RoutineForm, draft: Draft, push: PushEffects) -> Fault | None:
    """Return why the practitioner must look at the preview again before this push, or None."""
    if looking.step() != "push":
        return None
    if form.based_on.data != (str(newest.version) if newest else ""):
        return Fault("newer_version", "version", newest.version if newest else 0)
    choice = choice_of(desk.records(), push.line.case.id)
    if form.habit_seen.data != choice.id and draft.habit != choice.habit:
        return Fault("habit_moved", "version", "")
    if request.form.get("previewed") != draft.digest:
        return Fault("look_again", "version", "")
    if request.form.get("shown") != push.seal:
        return Fault("arm_moved", "version", "")
    unticked = [
        each.arm for each in push.effects if each.is_to_tick and each.arm not in (form.rises_taken_on.data or ())
    ]
    return Fault("rise_unticked", "version", "", tuple(unticked)) if unticked else None


def _has_faulty_movements(form: RoutineForm) -> bool:
    names = [*DIRECTION_FIELDS, "warm_ups", "stretches"]
    names += [each + end for each in form.offered_warm_ups() for end in ("_reps", "_seconds_each")]
    return any(form[name].errors for name in names)


def _page(
    line: Line,
    newest: RoutineVersion | None,
    form: RoutineForm,
    parts: Mapping[str, Any] | None = None,
    said_again: Fault | None = None,
) -> str:
    """Render the page; `parts` is what the entries would do, None where they have a fault."""
    return render_template(
        "routine/page.html",
        shown=line.case,
        newest=newest,
        begun={stand.arm: stand for stand in line.standings},
        barred=barred(line),
        form=form,
        places=DIRECTION_FIELDS,
        tuning=TUNING,
        tempo=TEMPO,
        lifts=named_choices(form[DIRECTION_FIELDS[0]].offered, form.own),
        warm_ups=named_choices(form.offered_warm_ups(), form.own),
        stretches=named_choices([value for value, *_ in form.stretches.iter_choices()], form.own),
        own=form.own,
        habits=[
            ("", desk.words().say(NO_HABIT)),
            *((id_, desk.words().say(each.name)) for id_, each in the_habits().items()),
        ],
        tuning_faults=any(form[name].errors for name in TUNING[3:]),
        tempo_faults=any(form[name].errors for name in TEMPO),
        is_of_movements=bool(_has_faulty_movements(form) or form.own.newer),
        read_in=words_for(line.case.locale).name,
        is_worked_out=parts is not None,
        said_again=said_again,
        start=request.args.get("start"),
        starts_offered=offered(line.case),
        **(parts or {}),
    )

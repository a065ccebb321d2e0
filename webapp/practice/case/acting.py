"""The acts of the case page over HTTP: ease one step, start over, rest until a day."""

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS
from webapp.practice import desk
from webapp.practice.case import page
from webapp.practice.case.acts.by_hand import ACTS, ByHandForm, Choice, by_hand_form, choices, settings_after
from webapp.practice.case.acts.resting import RestForm
from webapp.practice.standing import Line, line_for
from webapp.records import routines
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.sync.case import finishing


def rest(public_id: str) -> Response | tuple[str, int]:
    """Let the client rest until a day, or show the case page again with the faults."""
    shown = desk.own_case(public_id)
    form, line = RestForm(prefix="rest"), line_for(shown)
    if not form.judge(line):
        return page.page_of(shown, acts={"rest": form}), 400
    try:
        chosen = form.chosen(line.today)
        finishing.set_course(desk.records(), shown.id, chosen, form.rest_seen.data or "", now=desk.now())
    except finishing.CourseChangedError:
        form.rest_until.errors = [Fault("new_course", "rest_until", "")]
        return page.page_of(shown, acts={"rest": form}), 400
    desk.say_later("rest_set", form.rest_until.data)
    return desk.back_to_case(shown)


def set_by_hand(public_id: str, act: str) -> Response | tuple[str, int]:
    """Ease an arm one step or start it over, by a new version; or show the case page again with the faults.

    Where the arm no longer stands where the page said, nothing is pushed, and the reason that was typed stays.
    """
    shown = desk.own_case(public_id)
    arm, form = _sent(act)
    line = line_for(shown)
    choice = next((each for each in choices(line, act) if each.stand.arm == arm), None)
    if line.version is None or choice is None or form.by_hand_seen.data != choice.seen:
        return _moved(shown, line, form, choice)
    if not form.validate():
        return page.page_of(shown, acts={f"{act}-{arm}": form}), 400
    settings, note = settings_after(line.version, choice), str(form.by_hand_note.data)
    db, by = desk.records(), desk.signed_in().id
    try:
        with write(db):
            routines.check_follows(db, shown.id, line.version)
            pushed = routines.put(db, shown.id, line.version.routine, settings, note, by, desk.now())
    except routines.OvertakenError:
        return _moved(shown, line_for(shown), form, None)
    desk.say_later("pushed", pushed.version)
    return desk.back_to_case(shown)


def _moved(shown: Case, line: Line, form: ByHandForm, choice: Choice | None) -> Response | tuple[str, int]:
    """Say that nothing was pushed; where the same form was sent twice, that its version is on its way."""
    if line.version and line.version.came_of(desk.signed_in().id, form.by_hand_note.data):
        desk.say_later("pushed", line.version.version)
        return desk.back_to_case(shown)
    if choice is None:
        desk.say_later("arm_moved")
        return desk.back_to_case(shown)
    form.by_hand_note.errors = [Fault("arm_moved", "by_hand_note", "")]
    return page.page_of(shown, acts={f"{choice.act}-{choice.stand.arm}": form}), 409


def _sent(act: str) -> tuple[str, ByHandForm]:
    """Return the arm whose form was sent, and the form."""
    forms = {arm: by_hand_form(act, arm) for arm in ARMS} if act in ACTS else {}
    for arm, form in forms.items():
        if form.by_hand_seen.name in request.form:
            return arm, form
    return abort(400 if forms else 404)

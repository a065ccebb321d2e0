"""Releasing a hold: a rung chosen, a confirmation given, an entry written to the client's log."""

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS
from webapp.practice import blueprint, case, desk
from webapp.practice.forms import ReleaseForm
from webapp.records.cases import Case
from webapp.sync import hold


def _sent_form() -> tuple[str, ReleaseForm]:
    """Find which arm's form was sent: its fields carry the arm in front."""
    for arm in ARMS:
        form = ReleaseForm(prefix=arm)
        if form.arm.name in request.form:
            return arm, form
    return abort(400)


def _unread(shown: Case, arm: str, form: ReleaseForm) -> tuple[str, int]:
    """Show the case again with what came in meanwhile; it must be talked over anew."""
    form.confirmed.data, form.confirmed.errors = False, [Fault("new_sharp_report", "confirmed", "")]
    return case.page(shown, {arm: form}), 400


@blueprint.post("/cases/<public_id>/release")
def release_hold(public_id: str) -> Response | tuple[str, int]:
    """Release one arm's hold, or show the case again with what is missing or not yet read."""
    shown, db = desk.own_case(public_id), desk.records()
    arm, form = _sent_form()
    line = case.line_for(shown)
    stand = next((each for each in line.standings if each.arm == arm), None) or abort(404)
    if stand.mode != "held":
        desk.say_later("not_held")
        return desk.back_to_case(shown)
    if form.seen.data != hold.seal(hold.sharp_of(db, shown.id, arm)):
        return _unread(shown, arm, form)
    choices = {case.return_key(each): each for each in hold.returns_of(stand.account)}
    form.chosen.offered = tuple(choices)
    if not form.validate():
        return case.page(shown, {arm: form}), 400
    try:
        on = hold.release_on(stand.account, line.today)
        hold.release(db, shown.id, arm, choices[form.chosen.data], form.seen.data, on, desk.now())
    except hold.UnreadError:
        return _unread(shown, arm, form)
    desk.say_later("released", choices[form.chosen.data].rung)
    return desk.back_to_case(shown)

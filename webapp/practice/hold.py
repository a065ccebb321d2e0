"""Releasing a hold: a rung chosen, a confirmation given, an entry written to the client's log."""

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.settings import ARMS, Fault
from webapp.practice import blueprint, case, desk
from webapp.practice.forms import ReleaseForm
from webapp.sync import desk as log


def _sent_form() -> tuple[str, ReleaseForm]:
    """Find which arm's form was sent: its fields carry the arm in front."""
    for arm in ARMS:
        form = ReleaseForm(prefix=arm)
        if form.arm.name in request.form:
            return arm, form
    return abort(400)


@blueprint.post("/cases/<public_id>/release")
def release_hold(public_id: str) -> Response | tuple[str, int]:
    """Release one arm's hold, or show the case again with what is missing."""
    shown = desk.own_case(public_id)
    arm, form = _sent_form()
    if not form.validate():
        return case.page(shown, {arm: form}), 400
    line, rung = case.line_for(shown), int(form.rung.data or 0)
    stand = next((each for each in line.standings if each.arm == arm), None) or abort(404)
    if stand.mode != "held":
        desk.say_later("not_held")
        return desk.back_to_case(shown)
    if rung > stand.state.rung:
        form.rung.errors = [Fault("no_such_rung", "rung", rung, (stand.state.rung,))]
        return case.page(shown, {arm: form}), 400
    sharp = log.sharp_of(desk.records(), shown.id, arm)
    if form.seen.data != log.seal(sharp):
        form.confirmed.data, form.confirmed.errors = False, [Fault("new_sharp_report", "confirmed", "")]
        return case.page(shown, {arm: form}), 400
    on = log.release_on(stand.account, line.today)
    log.release(desk.records(), shown.id, arm, rung, sharp, on, desk.now())
    desk.say_later("released", rung)
    return desk.back_to_case(shown)

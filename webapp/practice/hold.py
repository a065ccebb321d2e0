"""Releasing a hold: a rung, a reason and a confirmation, and an entry written to the client's log."""

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.settings import ARMS
from webapp.practice import blueprint, case, desk, released
from webapp.practice.forms import LONGEST_NAME, ReleaseForm
from webapp.records.cases import Case
from webapp.sync import hold


def _sent_form() -> tuple[str, ReleaseForm]:
    """Find which arm's form was sent: its fields carry the arm in front."""
    for arm in ARMS:
        form = ReleaseForm(prefix=arm)
        if form.arm.name in request.form:
            return arm, form
    return abort(400)


def _grounds(form: ReleaseForm) -> hold.Grounds:
    """Return what the form says of why the hold ends, and who stands for it."""
    on = form.seen_on.data
    seen_by = (str(form.seen_by.data), on) if form.asks_who_saw and on else None
    return hold.Grounds(str(form.reason.data), desk.signed_in().name[:LONGEST_NAME], seen_by)


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
    if stand.mode != "held" or stand.account.released_from:
        desk.say_later("not_held")
        return desk.back_to_case(shown)
    if form.seen.data != hold.seal(hold.sharp_of(db, shown.id, arm)):
        return _unread(shown, arm, form)
    choices = {released.return_key(each): each for each in hold.returns_of(stand.account)}
    form.chosen.offered = tuple(choices)
    released.ask_who_saw(form, shown, stand, line.today)
    if not form.validate():
        return case.page(shown, {arm: form}), 400
    try:
        on = hold.release_on(stand.account, line.today)
        chosen = choices[form.chosen.data]
        hold.release(db, shown.id, arm, chosen, _grounds(form), form.seen.data, on, now=desk.now())
    except hold.UnreadError:
        return _unread(shown, arm, form)
    desk.say_later("released", f"{chosen.rung} {on.isoformat()}")
    return desk.back_to_case(shown)

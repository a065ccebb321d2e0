"""The practitioner's decisions on the case page.

They release a hold or agree to a start (both are events in the log), or take up an offer (a new version).
"""

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.offers import BY_CLINICIAN
from webapp.dosing.settings import ARMS
from webapp.practice import desk
from webapp.practice.case import holds, page
from webapp.practice.case.holds import ReleaseForm
from webapp.practice.case.offers import OfferForm, changed, noticed_of, offer_prefix, offers_of
from webapp.practice.case.screening import ClearForm
from webapp.practice.forms.entries import LONGEST_NAME
from webapp.practice.standing import Line, line_for
from webapp.records import routines
from webapp.records.cases import Case
from webapp.records.database import write
from webapp.sync.case import hold, screening
from webapp.sync.folding.review import seal


def _sent_release() -> tuple[str, ReleaseForm]:
    """Return the arm whose form was sent, and the form. The names of the form's fields begin with the arm."""
    for arm in ARMS:
        form = ReleaseForm(prefix=arm)
        if form.arm.name in request.form:
            return arm, form
    return abort(400)


def _grounds(form: ReleaseForm) -> hold.Grounds:
    """Return the reason for the release, the practitioner's name, and who has seen the arm."""
    on = form.seen_on.data
    seen_by = (str(form.seen_by.data), on) if form.asks_who_saw and on else None
    return hold.Grounds(str(form.reason.data), desk.signed_in().name[:LONGEST_NAME], seen_by)


def _unread(shown: Case, arm: str, form: ReleaseForm) -> tuple[str, int]:
    """Show the case page again with the reports that came in meanwhile; the practitioner must confirm the talk again."""
    form.confirmed.data, form.confirmed.errors = False, [Fault("new_sharp_report", "confirmed", "")]
    return page.page_of(shown, {arm: form}), 400


def release_hold(public_id: str) -> Response | tuple[str, int]:
    """Release the hold of one arm, or show the case page again with the faults or the unread reports."""
    shown, db = desk.own_case(public_id), desk.records()
    arm, form = _sent_release()
    line = line_for(shown)
    stand = next((each for each in line.standings if each.arm == arm), None) or abort(404)
    if stand.mode != "held" or stand.account.released_from:
        desk.say_later("not_held")
        return desk.back_to_case(shown)
    if form.seen.data != hold.seal(hold.sharp_of(db, shown.id, arm)):
        return _unread(shown, arm, form)
    choices = {holds.return_key(each): each for each in hold.returns_of(stand.account)}
    form.chosen.offered = tuple(choices)
    holds.ask_who_saw(form, shown, stand, line.today)
    if not form.validate():
        return page.page_of(shown, {arm: form}), 400
    try:
        on = hold.release_on(stand.account, line.today)
        chosen = choices[form.chosen.data]
        hold.release(db, shown.id, arm, chosen, _grounds(form), form.seen.data, on, now=desk.now())
    except hold.UnreadError:
        return _unread(shown, arm, form)
    desk.say_later("released", f"{chosen.rung} {on.isoformat()}")
    return desk.back_to_case(shown)


def clear_start(public_id: str) -> Response | tuple[str, int]:
    """Let a client start in spite of the signs that wait, or show the case page again with the faults."""
    shown, db = desk.own_case(public_id), desk.records()
    form = ClearForm(prefix="start")
    today = line_for(shown).today
    if not screening.screening_of(db, shown.id).waiting:
        desk.say_later("nothing_waits")
        return desk.back_to_case(shown)
    if not form.judge(today):
        return page.page_of(shown, clearing=form), 400
    try:
        screening.clear(db, shown.id, form.seen.data or "", form.grounds(), today, now=desk.now())
    except screening.ChangedError:
        form.confirmed.data, form.confirmed.errors = False, [Fault("new_signs", "confirmed", "")]
        return page.page_of(shown, clearing=form), 400
    desk.say_later("start_agreed")
    return desk.back_to_case(shown)


def _sent_offer() -> tuple[str, OfferForm]:
    """Return the arm whose form was sent, and the form. The names of the form's fields begin with the arm."""
    for arm in ARMS:
        form = OfferForm(prefix=offer_prefix(arm))
        if form.seen.name in request.form:
            return arm, form
    return abort(400)


def take_up_offer(public_id: str) -> Response | tuple[str, int]:
    """Push a version with the offered value, or show the case page again with the faults.

    An offer that has changed since the page was shown, or is gone, is not taken up.
    """
    shown = desk.own_case(public_id)
    arm, form = _sent_offer()
    line = line_for(shown)
    offer = offers_of(noticed_of(line)).get(arm)
    if line.version is None or offer is None or offer.needs == BY_CLINICIAN or form.seen.data != seal(offer):
        return _offer_gone(shown, line, form)
    if not form.validate():
        return page.page_of(shown, taken_up={arm: form}), 400
    routine, settings = changed(line.version, offer)
    db, by, note = desk.records(), desk.signed_in().id, form.note.data
    try:
        with write(db):
            routines.check_follows(db, shown.id, line.version)
            pushed = routines.put(db, shown.id, routine, settings, note, by, desk.now())
    except routines.OvertakenError:
        return _offer_gone(shown, line_for(shown), form)
    desk.say_later("pushed", pushed.version)
    return desk.back_to_case(shown)


def _offer_gone(shown: Case, line: Line, form: OfferForm) -> Response:
    """Say that nothing was pushed; where the same form was sent twice, that its version is on its way."""
    if line.version and line.version.came_of(desk.signed_in().id, form.note.data):
        desk.say_later("pushed", line.version.version)
    else:
        desk.say_later("offer_gone")
    return desk.back_to_case(shown)

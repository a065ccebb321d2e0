"""Taking up an offer of the review: the newest routine pushed once more with one value changed."""

from collections.abc import Mapping
from typing import Any

from flask import abort, request
from werkzeug.wrappers import Response

from webapp.dosing.offers import BY_CLINICIAN, CEILING, Offer
from webapp.dosing.settings import ARMS
from webapp.practice import blueprint, case, desk
from webapp.practice.forms import OfferForm, offer_prefix
from webapp.records import routines
from webapp.records.routines import RoutineVersion
from webapp.sync.review import seal


def _sent_form() -> tuple[str, OfferForm]:
    """Find which arm's form was sent: its fields carry the arm in front."""
    for arm in ARMS:
        form = OfferForm(prefix=offer_prefix(arm))
        if form.seen.name in request.form:
            return arm, form
    return abort(400)


def changed(version: RoutineVersion, offer: Offer) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
    """Return a version's routine and settings with the offered value; the arms carry on where they are."""
    # A rung that the version began on must not be begun on again.
    settings = {**version.settings, "start_rungs": {}}
    if offer.lever == CEILING:
        tuning = {**version.routine.get("tuning", {}), CEILING: offer.value}
        return {**version.routine, "tuning": tuning}, settings
    return version.routine, {**settings, "usual": offer.value}


@blueprint.post("/cases/<public_id>/offer")
def take_up_offer(public_id: str) -> Response | tuple[str, int]:
    """Push the offered value, or show the case again with what is missing; an offer that no longer stands is not taken up."""
    shown = desk.own_case(public_id)
    arm, form = _sent_form()
    line = case.line_for(shown)
    offer = case.offers_shown(line).get(arm)
    if line.version is None or offer is None or offer.needs == BY_CLINICIAN or form.seen.data != seal(offer):
        desk.say_later("offer_gone")
        return desk.back_to_case(shown)
    if not form.validate():
        return case.page(shown, offers={arm: form}), 400
    routine, settings = changed(line.version, offer)
    pushed = routines.push(desk.records(), shown.id, routine, settings, form.note.data, desk.signed_in().id, desk.now())
    desk.say_later("pushed", pushed.version)
    return desk.back_to_case(shown)

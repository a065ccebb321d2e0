"""Handing clients over: a practitioner one of their own, an owner any of a colleague's, without opening the case."""

from flask import abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import TextAreaField

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm, at_most, needed, trimmed
from webapp.practice.forms.fields import OneOfField, TicksField
from webapp.records import cases, hand_overs, history, practices, practitioners
from webapp.records.cases import Case
from webapp.records.practitioners import Practitioner
from webapp.sync.case import handing_over
from webapp.sync.case.handing_over import LONGEST_REASON, NotHandedOverError

SET_BY_SERVER = "halfturn practitioner password --email"
"""The command that sets another password; the address comes after it."""


class HandingForm(FlaskForm):
    """To whom, and why; the client reads the reason."""

    to = OneOfField(validators=[needed])
    handing_reason = TextAreaField(validators=[needed, at_most(LONGEST_REASON)], filters=[trimmed])


class HandingManyForm(HandingForm):
    """The same for some of a colleague's clients."""

    clients = TicksField(choices=[], validators=[needed])


def hand_over(public_id: str) -> Response | tuple[str, int] | str:
    """Show the form of handing over one's own client, or hand the client over; a second press says the same once more."""
    gone = hand_overs.given_away(desk.records(), desk.signed_in().id, public_id) if request.method == "POST" else None
    if gone is not None:
        desk.say_later("handed_over", gone)
        return redirect(url_for("practice.caseload.show"), 303)
    shown, me = desk.own_case(public_id), desk.signed_in()
    form, takers = HandingForm(), _takers(desk.signed_in())
    form.to.offered = tuple(takers)
    if request.method != "POST":
        return _page(shown, form, takers)
    if not form.validate():
        return _page(shown, form, takers), 400
    reason = str(form.handing_reason.data)
    try:
        handing_over.hand_over(desk.records(), shown.id, me, takers[str(form.to.data)], me, reason, now=desk.now())
    except NotHandedOverError:
        form.to.errors = [Fault("not_handed_over", "to", "")]
        return _page(shown, form, takers), 409
    desk.say_later("handed_over", shown.name)
    return redirect(url_for("practice.caseload.show"), 303)


def _takers(before: Practitioner) -> dict[str, Practitioner]:
    found = handing_over.colleagues_to_take(desk.records(), before.practice, before.id)
    return {str(each.id): each for each in found}


def _page(shown: Case, form: HandingForm, takers: dict[str, Practitioner]) -> str:
    return render_template("staff/hand_over.html", shown=shown, form=form, takers=takers)


def hand_over_of(colleague: int) -> Response | tuple[str, int]:
    """Hand some of a colleague's clients over, as an owner; or show the colleague's page again with the faults."""
    db, owner = desk.records(), desk.owner()
    known = practices.colleague(db, owner.practice, colleague) or abort(404)
    before, theirs = (
        practitioners.find(db, known.id),
        {each.public_id: each for each in cases.of_practitioner(db, known.id)},
    )
    form, takers = HandingManyForm(), _takers(before)
    form.to.offered, form.clients.choices = tuple(takers), list(theirs)
    if not form.validate():
        return page_of(colleague, form), 400
    to, chosen = takers[str(form.to.data)], [theirs[public_id].id for public_id in form.clients.data or ()]
    moved = sum(_moved(client, before, to, str(form.handing_reason.data)) for client in chosen)
    _say_moved(moved, len(chosen) - moved, to)
    return redirect(url_for("practice.staff.show_colleague", colleague=known.id), 303)


def _moved(client: int, before: Practitioner, to: Practitioner, reason: str) -> bool:
    """Hand one client over, as an owner, and keep it in the history; return whether the client was moved."""
    db, owner = desk.records(), desk.owner()
    try:
        handing_over.hand_over(db, client, before, to, owner, reason, now=desk.now())
    except NotHandedOverError:
        return False
    history.note(db, owner.id, "practice.staff.hand_over", desk.now(), client)
    return True


def _say_moved(moved: int, stayed: int, to: Practitioner) -> None:
    """Say how many were handed over, and how many were not, since they are with somebody else by now."""
    if not moved:
        desk.say_later("nobody_handed_over", to.name)
    elif stayed:
        desk.say_later("handed_part_over", f"{moved} {stayed} {to.name}")
    else:
        desk.say_later("handed_some_over", to.name)


def page_of(colleague: int, sent: HandingManyForm | None = None) -> str:
    """Render the page of a colleague, for an owner: 404 for anybody else."""
    db, owner = desk.records(), desk.owner()
    known = practices.colleague(db, owner.practice, colleague) or abort(404)
    return render_template(
        "staff/colleague.html",
        colleague=known,
        clients=cases.of_practitioner(db, known.id),
        takers=_takers(practitioners.find(db, known.id)),
        handing=sent or HandingManyForm(),
        form=ButtonForm(),
        by_server=SET_BY_SERVER,
        is_last_owner=sum(each.role == practices.OWNER for each in practices.colleagues(db, owner.practice)) == 1,
    )


def see(public_id: str) -> Response:
    """Note that the practitioner knows of the hand-over of a case."""
    shown = desk.own_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(shown)
    hand_overs.see(desk.records(), shown.id, desk.now())
    return desk.back_to_case(shown)

"""Routines offered to the practice: offering a copy under a name, the list of them, and taking one back.

A copy holds nothing of the client whose version it is: no name, no body, no weights, no rung, no jump that was accepted for that
client. A later change of that client's routine does not reach the copy, and withdrawing it changes no client's routine.
"""

from collections.abc import Mapping
from typing import Any

from flask import abort, g, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm, at_most, needed, trimmed
from webapp.practice.routine.form import LONGEST_TITLE, completed
from webapp.practice.routine.own import lifts_of, named
from webapp.records import offered_routines, routines
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion


class ShareForm(FlaskForm):
    """The name under which a routine is offered."""

    offered_as = StringField(validators=[needed, at_most(LONGEST_TITLE)], filters=[trimmed])


def copy_of(routine: Mapping[str, Any], title: str) -> dict[str, Any]:
    """Return a routine under another title, without the jumps that were accepted for one client."""
    whole = completed(routine)
    return {**whole, "title": title, "tuning": {**whole["tuning"], "accepted_jumps_kg": []}}


def offer(public_id: str, version: int) -> Response | tuple[str, int] | str:
    """Show what of a version would be offered, or offer it."""
    case = desk.known_case(public_id)
    found = routines.find(desk.records(), case.id, version) or abort(404)
    form = ShareForm()
    if not form.is_submitted():
        return _page(case, found, form)
    if not form.validate():
        return _page(case, found, form), 400
    title = str(form.offered_as.data)
    offered_routines.offer(desk.records(), desk.signed_in().id, copy_of(found.routine, title), desk.now())
    # The history keeps who offered it, not from whose case.
    g.pop("case")
    desk.say_later("routine_offered", title)
    return redirect(url_for("practice.routine.every_offered"), 303)


def _page(case: Case, version: RoutineVersion, form: ShareForm) -> str:
    copied = copy_of(version.routine, version.routine["title"])
    return render_template(
        "routine/offer.html",
        shown=case,
        version=version,
        form=form,
        copied=copied,
        names=named(copied),
        lifts_of=lifts_of,
    )


def every_offered() -> str:
    """List the routines that are offered in the practice, the newest first."""
    found = offered_routines.of_practice(desk.records(), desk.practice().id)
    names = named(*(each.routine for each in found))
    return render_template(
        "routine/offered.html", offered=found, names=names, lifts_of=lifts_of, me=desk.signed_in().id, form=ButtonForm()
    )


def withdraw_offered() -> Response:
    """Take back one that the practitioner may take back; nothing changes for one that is taken back already."""
    if not ButtonForm().validate():
        desk.say_later("send_again")
    elif offered_routines.withdraw(desk.records(), desk.signed_in().id, request.form.get("key", ""), desk.now()):
        desk.say_later("routine_not_offered")
    return redirect(url_for("practice.routine.every_offered"), 303)

"""Those who work in the practice: an owner adds them by a link, looks at their clients' names, and removes them."""

from datetime import datetime
from urllib.parse import urljoin

from flask import abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.forms import reach
from webapp.practice.forms.entries import ButtonForm, at_most, needed, trimmed
from webapp.practice.staff import handing
from webapp.records import members, practices
from webapp.records.database import instant
from webapp.records.practices import Colleague
from webapp.records.practitioners import EmailTakenError


class ColleagueForm(FlaskForm):
    """The name of a new member, and the address for signing in.

    Its prefix keeps it apart from the address of the sign-in page, through which an unsent form goes where a sign-in has ended.
    """

    name = StringField(validators=[needed, at_most(reach.LONGEST_NAME)], filters=[trimmed])
    email = StringField(validators=[needed, reach.email], filters=[trimmed])


def _known(colleague: int) -> Colleague:
    """Return a colleague of the owner's practice; 404 for anybody else, and for a member who asks."""
    return practices.colleague(desk.records(), desk.owner().practice, colleague) or abort(404)


def add() -> Response | tuple[str, int] | str:
    """Show the form for a new member, or add the member and show the link."""
    form, owner = ColleagueForm(prefix="colleague"), desk.owner()
    if request.method != "POST":
        return render_template("staff/add.html", form=form)
    if not form.validate():
        return render_template("staff/add.html", form=form), 400
    try:
        made = members.add(desk.records(), owner.practice, str(form.name.data), str(form.email.data), desk.now())
    except EmailTakenError:
        form.email.errors = [Fault("email_taken", "email", form.email.data)]
        return render_template("staff/add.html", form=form), 409
    return _with_link(_known(made))


def show_colleague(colleague: int) -> str:
    """Show a colleague: how many clients, their names, and what the owner can do."""
    return handing.page_of(colleague)


def link(colleague: int) -> Response:
    """Make a new link, by which a colleague sets a password; the page that follows shows it, in this browser alone."""
    known = _known(colleague)
    if known.has_left:
        abort(404)
    if not ButtonForm().validate():
        return _again(known)
    try:
        return _with_link(known)
    except members.NoCodeError:
        desk.say_later("no_code", known.name)
        return redirect(url_for("practice.staff.show_colleague", colleague=known.id), 303)


def _with_link(known: Colleague) -> Response:
    made = members.make_link(desk.records(), known.id, desk.now(), desk.signed_in().id)
    desk.keep_here(f"colleague {known.id}", token=made.token, expires_at=instant(made.expires_at))
    return redirect(url_for("practice.staff.show_link", colleague=known.id), 303)


def show_link(colleague: int) -> Response | str:
    """Show the link that this browser has just made for a colleague; it is stored nowhere."""
    known = _known(colleague)
    made = desk.kept_here(f"colleague {known.id}")
    if made is None:
        return redirect(url_for("practice.staff.show_colleague", colleague=known.id), 303)
    address = urljoin(desk.settings().origin, url_for("practice.door.welcome", token=made["token"]))
    expires_at = datetime.fromisoformat(made["expires_at"])
    return render_template("staff/link.html", colleague=known, link=address, expires_at=expires_at)


def remove(colleague: int) -> Response:
    """Remove a member who has no clients; nothing changes for one who still has, or who is removed already."""
    removed = members.name_of_removed(desk.records(), desk.owner().practice, colleague)
    if removed:
        desk.say_later("colleague_removed", removed)
        return redirect(url_for("practice.staff.show"), 303)
    known = _known(colleague)
    if not ButtonForm().validate():
        return _again(known)
    try:
        members.remove(desk.records(), desk.owner().practice, known.id, desk.now())
    except members.HasClientsError:
        desk.say_later("has_clients", known.name)
        return redirect(url_for("practice.staff.show_colleague", colleague=known.id), 303)
    desk.say_later("colleague_removed", known.name)
    return redirect(url_for("practice.staff.show"), 303)


def _again(known: Colleague) -> Response:
    desk.say_later("send_again")
    return redirect(url_for("practice.staff.show_colleague", colleague=known.id), 303)

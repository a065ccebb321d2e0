"""A practitioner sets another password of their own, with a new recovery code; and what happened to the password."""

import math
from datetime import timedelta

from flask import redirect, render_template, request, url_for
from limits import parse_many
from werkzeug.wrappers import Response
from wtforms import PasswordField

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.door import passwords, recovery_code
from webapp.practice.door.welcome import PasswordForm, show_code
from webapp.practice.forms.entries import ButtonForm, at_most, needed
from webapp.records import members, practitioners, recovery
from webapp.sync.limits.tries import Guard

WRONG_PASSWORDS = parse_many("10 per 15 minutes")
EVENTS_SHOWN = 20


class OwnPasswordForm(PasswordForm):
    """The present password, and a new one, typed twice."""

    present_password = PasswordField(validators=[needed, at_most(passwords.MOST_LETTERS)])


def change_password() -> Response | tuple[str, int] | str:
    """Show the form and what happened to the password, or set another; a new recovery code is then shown once."""
    form, me = OwnPasswordForm(), desk.signed_in()
    if request.method != "POST":
        return _page(form)
    if not form.validate() or not _is_present(form):
        return _page(form), 400
    code = recovery_code.drawn()
    new = recovery_code.new_secrets(str(form.new_password.data), code)
    members.replace_password(desk.records(), me.id, new, recovery.SET_AGAIN, desk.now())
    return show_code(me, code)


def _is_present(form: OwnPasswordForm) -> bool:
    me = desk.signed_in()
    guard = Guard(WRONG_PASSWORDS, ("own password", str(me.id)))
    wait = desk.tries().wait(guard)
    _, password_hash = practitioners.with_password(desk.records(), me.email) or (None, None)
    if wait:
        minutes = math.ceil(wait / timedelta(minutes=1))
        form.present_password.errors = [Fault("wait", "present_password", "", (minutes,))]
    elif not passwords.is_right(password_hash, str(form.present_password.data)):
        desk.tries().fail(guard)
        form.present_password.errors = [Fault("wrong_password", "present_password", "")]
    return not form.errors


def see_password() -> Response:
    """Note that the practitioner knows of what happened to their password."""
    if ButtonForm().validate():
        recovery.see(desk.records(), desk.signed_in().id, desk.now())
    else:
        desk.say_later("send_again")
    return redirect(url_for("practice.door.change_password"), 303)


def _page(form: OwnPasswordForm) -> str:
    db, me = desk.records(), desk.signed_in().id
    return render_template(
        "door/own_password.html",
        form=form,
        fewest=passwords.FEWEST_LETTERS,
        events=recovery.latest_of(db, me, EVENTS_SHOWN),
        has_code=bool(recovery.code_hash_of(db, me)),
    )

"""The link that an owner gave to a colleague: it sets a password, once, and signs in.

Who has a recovery code must type it too, so that the link alone makes nobody somebody else.
"""

import math
from datetime import timedelta

from flask import redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from limits import parse_many
from werkzeug.wrappers import Response
from wtforms import Field, PasswordField, StringField
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.door import page, passwords, recovery_code
from webapp.practice.forms.entries import ButtonForm, at_most, needed, trimmed
from webapp.records import members, practitioners
from webapp.records.members import Invited
from webapp.sync.limits.tries import Guard

KEPT_CODE = "recovery code"
WRONG_CODES = parse_many("10 per 15 minutes")


class PasswordForm(FlaskForm):
    """A new password, typed twice."""

    new_password = PasswordField(validators=[needed, at_most(passwords.MOST_LETTERS)])
    once_more = PasswordField(validators=[needed])

    def validate_new_password(self, field: Field) -> None:
        """Refuse a password that is too short."""
        if len(field.data) < passwords.FEWEST_LETTERS:
            raise StopValidation(Fault("too_short", "new_password", len(field.data), (passwords.FEWEST_LETTERS,)))

    def validate_once_more(self, field: Field) -> None:
        """Refuse two passwords that differ."""
        if field.data != self.new_password.data:
            raise StopValidation(Fault("passwords_differ", "once_more", ""))


class RecoveringForm(PasswordForm):
    """The same, with the recovery code of who has one."""

    recovery_code = StringField(validators=[needed, at_most(passwords.MOST_LETTERS)], filters=[trimmed])


def welcome(token: str) -> Response | tuple[str, int] | str:
    """Show who is let in by a link, or set the password and sign in. A link that lets nobody in says so."""
    invited = members.invited_by(desk.records(), token, desk.now())
    form = RecoveringForm() if invited and invited.code_hash else PasswordForm()
    if invited is None:
        return _page(form, None), 404
    if request.method != "POST":
        return _page(form, invited)
    if not form.validate() or not _has_code(form, invited):
        return _page(form, invited), 400
    code = recovery_code.drawn()
    new = recovery_code.new_secrets(str(form.new_password.data), code)
    if not members.set_password(desk.records(), token, invited, new, desk.now()):
        return _page(form, None), 404
    found = practitioners.with_password(desk.records(), invited.email)
    return _page(form, None) if found is None else show_code(found[0], code)


def _has_code(form: PasswordForm, invited: Invited) -> bool:
    """Check the recovery code of who has one; wrong ones are counted, whoever types them."""
    if not isinstance(form, RecoveringForm):
        return True
    guard = Guard(WRONG_CODES, ("recovery code", str(invited.practitioner)))
    wait = desk.tries().wait(guard)
    if wait:
        form.recovery_code.errors = [Fault("wait", "recovery_code", "", (math.ceil(wait / timedelta(minutes=1)),))]
    elif not recovery_code.is_code(invited.code_hash, str(form.recovery_code.data)):
        desk.tries().fail(guard)
        form.recovery_code.errors = [Fault("wrong_code", "recovery_code", "")]
    return not form.errors


def show_code(practitioner: practitioners.Practitioner, code: str) -> Response:
    """Begin a sign-in, and show the new recovery code on the next page, in this browser alone."""

    def show_next() -> Response:
        desk.keep_here(KEPT_CODE, code=code)
        return redirect(url_for("practice.door.show_recovery_code"), 303)

    return page.begin_sign_in(practitioner, show_next)


def show_recovery_code() -> Response | str:
    """Show the recovery code that this browser was just given, until its owner says to have written it down."""
    kept = desk.kept_here(KEPT_CODE)
    if kept is None:
        return redirect(url_for("practice.door.change_password"), 303)
    return render_template("door/recovery_code.html", code=kept["code"], form=ButtonForm())


def forget_recovery_code() -> Response:
    """Forget the code in this browser too, and go on to the caseload."""
    if not ButtonForm().validate():
        return redirect(url_for("practice.door.show_recovery_code"), 303)
    desk.keep_here("")
    return redirect(url_for("practice.caseload.show"), 303)


def _page(form: PasswordForm, invited: Invited | None) -> str:
    return render_template("door/welcome.html", form=form, invited=invited, fewest=passwords.FEWEST_LETTERS)

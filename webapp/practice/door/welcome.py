"""The link that an owner gave to a colleague: it sets a password, once, and signs in."""

from flask import render_template, request
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import Field, PasswordField
from wtforms.validators import StopValidation

from webapp.dosing.faults import Fault
from webapp.practice import desk
from webapp.practice.door import page, passwords
from webapp.practice.forms.entries import at_most, needed
from webapp.records import members, practitioners
from webapp.records.members import Invited


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


def welcome(token: str) -> Response | tuple[str, int] | str:
    """Show who is let in by a link, or set the password and sign in. A link that lets nobody in says so."""
    form, invited = PasswordForm(), members.invited_by(desk.records(), token, desk.now())
    if invited is None:
        return _page(form, None), 404
    if request.method != "POST":
        return _page(form, invited)
    if not form.validate():
        return _page(form, invited), 400
    password_hash = passwords.hash_password(str(form.new_password.data))
    if not members.set_password(desk.records(), token, invited.practitioner, password_hash):
        return _page(form, None), 404
    found = practitioners.with_password(desk.records(), invited.email)
    return _page(form, None) if found is None else page.open_for(found[0], "")


def _page(form: PasswordForm, invited: Invited | None) -> str:
    return render_template("door/welcome.html", form=form, invited=invited, fewest=passwords.FEWEST_LETTERS)

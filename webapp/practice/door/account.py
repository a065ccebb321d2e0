"""The practitioner's own account: their name, how clients reach them, the language in which they read the desk."""

from dataclasses import asdict

from flask import abort, redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.practice import desk
from webapp.practice.forms import reach
from webapp.practice.forms.entries import at_most, needed, trimmed
from webapp.records import practitioners
from webapp.records.practitioners import Reach


class AccountForm(FlaskForm):
    """The name and how clients reach the practitioner; `contact_email` is for clients, not for signing in."""

    name = StringField(validators=[needed, at_most(reach.LONGEST_NAME)], filters=[trimmed])
    telephone = StringField(validators=[reach.telephone], filters=[trimmed])
    hours = StringField(validators=[at_most(reach.LONGEST_LINE)], filters=[trimmed])
    contact_email = StringField(validators=[at_most(reach.LONGEST_EMAIL), reach.email], filters=[trimmed])
    letters_read = StringField(validators=[at_most(reach.LONGEST_LINE)], filters=[trimmed])


def account() -> Response | tuple[str, int] | str:
    """Show the account, or keep what was entered."""
    form = AccountForm(data=_stored())
    if request.method != "POST":
        return _page(form)
    locale = request.form.get("locale", desk.locale())
    if locale not in desk.settings().locales:
        abort(400)
    if not form.validate():
        return _page(form), 400
    texts = (form.telephone.data, form.hours.data, form.contact_email.data, form.letters_read.data)
    practitioners.change(desk.records(), desk.signed_in().id, str(form.name.data), Reach(*map(str, texts)))
    practitioners.choose_locale(desk.records(), desk.signed_in().id, locale)
    desk.say_later("account_saved")
    return redirect(url_for("practice.door.account"), 303)


def _stored() -> dict[str, str]:
    known = asdict(practitioners.reach_of(desk.records(), desk.signed_in().id))
    return {**known, "contact_email": known["email"], "name": desk.signed_in().name}


def _page(form: AccountForm) -> str:
    return render_template("door/account.html", form=form)

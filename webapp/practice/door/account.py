"""The practitioner's own account: the language in which they read the desk."""

from flask import abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.records import practitioners


def account() -> Response | str:
    """Show the account, or keep the language that was chosen."""
    form = ButtonForm()
    if request.method != "POST":
        return render_template("door/account.html", form=form)
    locale = request.form.get("locale", "")
    if locale not in desk.settings().locales:
        abort(400)
    if form.validate():
        practitioners.choose_locale(desk.records(), desk.signed_in().id, locale)
    desk.say_later("send_again" if form.errors else "language_chosen")
    return redirect(url_for("practice.door.account"), 303)

"""The page of the practice: its settings, which an owner changes, and who works there."""

from flask import redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.staff.settings_form import TUNINGS, SettingsForm, seal, settings_form
from webapp.records import practices, routines


def show() -> Response | tuple[str, int] | str:
    """Show the page of the practice, or keep the settings that an owner entered."""
    house = desk.practice()
    form = settings_form(house)
    if request.method != "POST":
        return _page(form)
    desk.owner()
    if not form.judge(house):
        return _page(form), 400
    practices.change(desk.records(), form.chosen(house))
    desk.say_later("practice_saved")
    return redirect(url_for("practice.staff.show"), 303)


def _page(form: SettingsForm) -> str:
    house = desk.practice()
    return render_template(
        "staff/page.html",
        form=form,
        seal=seal(house),
        house=house,
        tunings=TUNINGS,
        bounds=desk.bounds(),
        colleagues=practices.colleagues(desk.records(), house.id),
        outside=_outside() if house.bounds else [],
    )


def _outside() -> list[str]:
    """Return the names of the practitioner's own clients whose newest routine lies outside the practice's bounds."""
    newest = routines.tunings_of_practitioner(desk.records(), desk.signed_in().id)
    return [name for name, tuning in newest if not desk.is_within_bounds(tuning)]

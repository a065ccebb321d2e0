"""The page of the records: what can be taken away, how long who has ended is kept, and what was removed."""

from flask import redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import needed
from webapp.practice.forms.fields import OneOfField
from webapp.records import carrying, keeping, removal
from webapp.sync.case import retention

NEVER = "never"
YEARS = ("2", "7", "10")
MOST_REMOVALS = 20


class KeepingForm(FlaskForm):
    """After how many years who has ended is removed."""

    keep_years = OneOfField((NEVER, *YEARS), validators=[needed])


def show_records() -> Response | tuple[str, int] | str:
    """Show the page, or keep what an owner chose."""
    form, house = KeepingForm(), desk.practice()
    if request.method != "POST":
        form.keep_years.data = str(keeping.years_of(desk.records(), house.id) or NEVER)
        return _page(form)
    desk.owner()
    if not form.validate():
        return _page(form), 400
    chosen = str(form.keep_years.data)
    keeping.choose_years(desk.records(), house.id, None if chosen == NEVER else int(chosen))
    desk.say_later("keeping_saved")
    return redirect(url_for("practice.records.show_records"), 303)


def _page(form: KeepingForm) -> str:
    db, house = desk.records(), desk.practice()
    own = set(carrying.keys(db, desk.signed_in().id))
    due = retention.due(db, desk.now(), house.id)
    years = keeping.years_of(db, house.id)
    return render_template(
        "records/page.html",
        form=form,
        years=years,
        quiet=retention.quiet(db, desk.now(), desk.signed_in().id, years),
        choices=YEARS,
        count=len(own),
        practice_count=len(carrying.keys_of_practice(db, house.id)),
        due=[each for each in due if each.client in own],
        others_due=sum(each.client not in own for each in due),
        removals=removal.removals(db)[:MOST_REMOVALS] if desk.signed_in().is_owner else [],
    )

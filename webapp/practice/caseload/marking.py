"""The practice's own mark on a client: seen, back in the order on a day. No phone reads it."""

from datetime import date, timedelta

from flask import redirect, render_template, request, url_for
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import StringField

from webapp.practice import desk
from webapp.practice.caseload.lines import CaseloadLine, line_of_case
from webapp.practice.forms.entries import LONGEST_NAME, ButtonForm, at_most, needed, trimmed
from webapp.practice.forms.fields import DayField
from webapp.records import seen
from webapp.records.seen import Seen

LONGEST_SEEN_NOTE = 140
USUAL_DAYS, MOST_DAYS = timedelta(days=3), timedelta(days=60)
ONE_DAY = timedelta(days=1)


class SeenForm(FlaskForm):
    """The form of a mark: the day on which the client comes back, and a note for the practice."""

    seen_until = DayField(validators=[needed])
    seen_note = StringField(validators=[at_most(LONGEST_SEEN_NOTE)], filters=[trimmed])


def mark(public_id: str) -> str | Response | tuple[str, int]:
    """Show the form, or mark the client as seen."""
    case = desk.own_case(public_id)
    line = line_of_case(desk.records(), desk.signed_in().id, case, desk.now())
    form = SeenForm()
    form.seen_until.earliest, form.seen_until.latest = line.today + ONE_DAY, line.today + MOST_DAYS
    if not form.is_submitted():
        return _filled(form, line)
    if not form.validate():
        return _page(form, line), 400
    # What came in after the form was opened was not seen.
    shown = set(request.form.getlist("shown"))
    causes = tuple(cause.stamp for cause in line.causes if cause.stamp in shown)
    chosen = Seen(str(form.seen_until.data), form.seen_note.data or "", causes, desk.signed_in().name[:LONGEST_NAME])
    seen.mark(desk.records(), case.id, chosen, desk.now())
    desk.say_later("seen", str(form.seen_until.data))
    return _back()


def take_back(public_id: str) -> Response:
    """Take the mark of a client back; without a mark nothing is changed."""
    case = desk.own_case(public_id)
    if not ButtonForm().validate_on_submit():
        desk.say_later("send_again")
        return _back()
    seen.unmark(desk.records(), case.id)
    desk.say_later("seen_taken_back")
    return _back()


def _back() -> Response:
    return redirect(url_for("practice.caseload.show"), 303)


def _filled(form: SeenForm, line: CaseloadLine) -> str:
    form.seen_until.data = date.fromisoformat(line.seen.until) if line.seen else line.today + USUAL_DAYS
    form.seen_note.data = line.seen.note if line.seen else ""
    return _page(form, line)


def _page(form: SeenForm, line: CaseloadLine) -> str:
    """Render the page; a form that was sent keeps the causes that it showed at first."""
    shown = request.form.getlist("shown") if form.is_submitted() else [cause.stamp for cause in line.causes]
    return render_template("caseload/seen.html", form=form, line=line, causes_shown=shown)

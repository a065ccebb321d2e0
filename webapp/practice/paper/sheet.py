"""The routine as a printed sheet with a week's diary, one page an arm, and a page of warning signs; handing it out."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

from babel.dates import format_date, format_skeleton
from flask import abort, render_template, request
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import BooleanField, StringField

from webapp.dosing.faults import Fault
from webapp.dosing.settings import Bound
from webapp.events.course_set import course_on
from webapp.events.kinds import LEVELS
from webapp.library.movement import Movement
from webapp.library.own_movement import own_in
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import needed
from webapp.practice.forms.fields import DayField, NumberField, OneOfField
from webapp.practice.standing import Line, line_for
from webapp.records import practitioners
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion
from webapp.sync.bundle.plans import plan_of
from webapp.sync.from_paper import handing_out
from webapp.sync.from_paper.sheets import arms_on_paper, default_first
from webapp.words import words_for
from webapp.words.amounts import load_text, range_text
from webapp.words.catalogue import Words
from webapp.words.days import day_text

PAPERS = ("a4", "letter")
WEEK = 7
WEEKS = Bound(1, 2, "weeks", "own-choice")
"""A dose on paper does not follow the mornings, so a sheet is for two weeks at most."""
MOST_PICTURES = 6
"""So many pictures stand in one row; with more the diary has a page of its own."""
MOST_AHEAD = timedelta(days=14)
MOST_BACK = timedelta(days=14)
ONE_DAY = timedelta(days=1)


class HandOutForm(FlaskForm):
    """The form that lets the sheet count from a day, once the warning signs were asked."""

    sheet_from = DayField(validators=[needed])
    sheet_signs = BooleanField()
    sheet_version = StringField()


class LookForm(FlaskForm):
    """What the page shows: from which day on, for how many weeks, on which paper."""

    sheet_first = DayField()
    sheet_weeks = NumberField(WEEKS)
    paper = OneOfField(PAPERS)


@dataclass(frozen=True)
class DayOfSheet:
    """A day of the diary: the name of its weekday, its day and month, and all of it."""

    weekday: str
    short: str
    whole: str


def show_sheet(public_id: str) -> str:
    """Show the sheet of one case, ready to be printed."""
    return _page(desk.known_case(public_id), None)


def hand_out(public_id: str) -> Response | tuple[str, int]:
    """Let the sheet's routine count from the chosen day, or show the page again with the faults."""
    shown = desk.known_case(public_id)
    line = line_for(shown)
    form = HandOutForm()
    _bound(form, line.today)
    if not form.validate() or line.version is None:
        return _page(shown, form), 400
    try:
        handing_out.hand_out(
            desk.records(),
            shown.id,
            _version_of(form),
            _day_of(form),
            asked_signs=form.sheet_signs.data,
            now=desk.now(),
        )
    except handing_out.SignsUnaskedError:
        form.sheet_signs.errors = [Fault("missing", "sheet_signs", "")]
        return _page(shown, form), 400
    except handing_out.StartWaitsError:
        form.sheet_signs.errors = [Fault("start_waits", "sheet_signs", "")]
        return _page(shown, form), 400
    desk.say_later("handed_out", form.sheet_from.data)
    return desk.back_to_case(shown)


def _version_of(form: HandOutForm) -> int:
    text = form.sheet_version.data or ""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else abort(400)  # noqa: PLR2004


def _day_of(form: HandOutForm) -> date:
    return form.sheet_from.data or abort(400)


def _bound(form: HandOutForm, today: date) -> None:
    form.sheet_from.earliest, form.sheet_from.latest = today - MOST_BACK, today + MOST_AHEAD


def _look(shown: Case, line: Line) -> LookForm:
    """Read what the address asks for. Where it asks for nothing, or for what cannot be, the sheet begins today or tomorrow."""
    look = LookForm(request.args, meta={"csrf": False})
    look.sheet_first.earliest, look.sheet_first.latest = line.today - MOST_BACK, line.today + MOST_AHEAD
    look.validate()
    if look.sheet_first.errors or not look.sheet_first.data:
        look.sheet_first.data = default_first(desk.records(), shown.id, line.today)
    if look.sheet_weeks.errors or not look.sheet_weeks.data:
        look.sheet_weeks.data = int(WEEKS.low)
    if look.paper.errors or not look.paper.data:
        look.paper.data = PAPERS[0]
    return look


def _page(shown: Case, sent: HandOutForm | None) -> str:
    line = line_for(shown)
    if line.version is None:
        abort(404)
    words, look = words_for(shown.locale), _look(shown, line)
    first = look.sheet_first.data or line.today
    sheets = arms_on_paper(desk.records(), shown.id, line.version, line.today, first)
    # Several short sessions a day are for the first week only.
    is_first_week = any(each.dose.sessions > 1 for each in sheets)
    form = sent or HandOutForm()
    _bound(form, line.today)
    if sent is None:
        form.sheet_from.data = first
    return render_template(
        "paper/sheet.html",
        line=line,
        look=look,
        paper=look.paper.data,
        weeks=_weeks(first, 1 if is_first_week else int(look.sheet_weeks.data or 1), words),
        is_first_week=is_first_week,
        most_pictures=MOST_PICTURES,
        sheets=sheets,
        rest_until=_rest_until(line, first, words),
        signs=[(level, [sign for sign in the_shelf().warnings if sign.level == level]) for level in LEVELS],
        to_do=the_shelf().to_do,
        caution=the_shelf().caution.short,
        movements=_said_movements(line.version, words),
        load=partial(load_text, words, weights=line.version.settings["weights"]),
        range_said=partial(range_text, words),
        say=words.say,
        reach=practitioners.reach_of(desk.records(), desk.signed_in().id),
        tempo=plan_of(line.version).routine.tempo,
        form=form,
        is_out=line.version.received_on is not None,
        asks_signs=line.screening.waits_for == "screening",
        start_waits=line.screening.waits_for not in ("screening", "nothing"),
    )


def _rest_until(line: Line, first: date, words: Words) -> str:
    until = course_on(line.courses, first).until
    return day_text(words, until) if until else ""


def _said_movements(version: RoutineVersion, words: Words) -> dict[str, Movement]:
    """Return every movement in the client's language by id, the own ones of this version as they were written."""
    shelf = the_shelf().with_own(own_in(version.routine))
    return {id_: movement.said(words.say) for id_, movement in shelf.movements.items()}


def _weeks(first: date, count: int, words: Words) -> list[list[DayOfSheet]]:
    days = [first + number * ONE_DAY for number in range(count * WEEK)]
    shown = [
        DayOfSheet(
            format_date(day, "EEE", locale=words.cldr),
            format_skeleton("MMMd", day, locale=words.cldr),
            day_text(words, day),
        )
        for day in days
    ]
    return [shown[at : at + WEEK] for at in range(0, len(shown), WEEK)]

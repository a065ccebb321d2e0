"""The routine as a printed sheet with a week's diary, one page an arm, and a page of warning signs; handing it out."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

from babel.dates import format_date
from flask import abort, render_template, request
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response
from wtforms import BooleanField, StringField

from webapp.dosing import figures
from webapp.dosing.dose import Dose, dose
from webapp.dosing.faults import Fault
from webapp.dosing.plan import Plan, start_state
from webapp.events.kinds import LEVELS
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.forms.entries import needed
from webapp.practice.forms.fields import DayField
from webapp.practice.standing import Line, line_for
from webapp.records import practitioners
from webapp.records.cases import Case
from webapp.sync.bundle.plans import plan_of
from webapp.sync.from_paper import handing_out
from webapp.words import words_for
from webapp.words.amounts import load_text, range_text
from webapp.words.catalogue import Words
from webapp.words.days import day_text

PAPERS = ("a4", "letter")
DAYS = 7
MOST_AHEAD = timedelta(days=14)
MOST_BACK = timedelta(days=14)


class HandOutForm(FlaskForm):
    """The form that lets the sheet count from a day, once the warning signs were asked."""

    sheet_from = DayField(validators=[needed])
    sheet_signs = BooleanField()
    sheet_version = StringField()


@dataclass(frozen=True)
class SheetOfArm:
    """What the sheet shows of one arm: its dose, the range in words ("" for the whole), and where its mornings turn.

    Attributes:
        calm: The highest rating of a calm morning.
    """

    arm: str
    dose: Dose
    range: str
    calm: int


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


def _first(today: date) -> date:
    try:
        first = date.fromisoformat(request.args.get("from", ""))
    except ValueError:
        return today
    return first if abs(first - today) <= MOST_AHEAD else today


def _page(shown: Case, sent: HandOutForm | None) -> str:
    line = line_for(shown)
    if line.version is None:
        abort(404)
    paper = request.args.get("paper", PAPERS[0])
    first = _first(line.today)
    words = words_for(shown.locale)
    form = sent or HandOutForm()
    _bound(form, line.today)
    if sent is None:
        form.sheet_from.data = line.today
    return render_template(
        "paper/sheet.html",
        line=line,
        paper=paper if paper in PAPERS else PAPERS[0],
        papers=PAPERS,
        days=_days(first, words),
        sheets=[_sheet(line, arm, words) for arm in line.version.settings["arms"]],
        signs=[(level, [sign for sign in the_shelf().warnings if sign.level == level]) for level in LEVELS],
        to_do=the_shelf().to_do,
        caution=the_shelf().caution.short,
        movements=the_shelf().movements,
        load=partial(load_text, words, weights=line.version.settings["weights"]),
        say=words.say,
        reach=practitioners.reach_of(desk.records(), desk.signed_in().id),
        tempo=plan_of(line.version).routine.tempo,
        flared=int(figures.FLARED_RATING.value),
        form=form,
        is_out=line.version.received_on is not None,
        asks_signs=line.screening.waits_for == "screening",
        start_waits=line.screening.waits_for not in ("screening", "nothing"),
    )


def _days(first: date, words: Words) -> list[tuple[str, str]]:
    """Return the days of the diary, each as its short name and its number."""
    days = [first + timedelta(days=count) for count in range(DAYS)]
    return [(format_date(day, "EEE", locale=words.cldr), day_text(words, day)) for day in days]


def _sheet(line: Line, arm: str, words: Words) -> SheetOfArm:
    stand = next((each for each in line.standings if each.arm == arm), None)
    plan = _plan_of(line)
    asks = stand.dose if stand else dose(plan, start_state(plan, arm))
    share = asks.sets[0].range if asks.sets else 1.0
    calm = max(int(figures.SETTLED_MORNING.value), plan.client.usual)
    return SheetOfArm(arm, asks, range_text(words, share) if share < 1 else "", calm)


def _plan_of(line: Line) -> Plan:
    return plan_of(line.version) if line.version else abort(404)

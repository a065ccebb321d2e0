"""The page of a client's way back: the gate, the steps, each outing, opening and ending."""

from collections.abc import Sequence
from datetime import date

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.dosing.faults import Fault
from webapp.dosing.returning.gate import GatePoint
from webapp.events.returning import ENDED, OPENED
from webapp.library.ladders import the_ladders
from webapp.practice import desk
from webapp.practice.returning.form import EndWayForm, OpenWayForm, is_asked, steps_offered
from webapp.practice.standing import Line, line_for
from webapp.records.cases import Case
from webapp.sync.case.way_back import WayChangedError, gate_of, put_way, seal
from webapp.sync.folding.returning import ReturnDay, WayBack, told_ways, way_back
from webapp.words.catalogue import mark
from webapp.words.returning import AMOUNTS, RETURN_REASONS

DAYS_SHOWN = 42
CHOOSE = mark("Choose one")


def way_today(line: Line) -> WayBack | None:
    """Return a client's way back today, or None; the case page shows it."""
    return way_back(desk.records(), line.case.id, line.today)


def show_way(public_id: str) -> str:
    """Show the page."""
    return _page(desk.known_case(public_id))


def _gate(line: Line) -> tuple[GatePoint, ...]:
    accounts = {stand.arm: stand.account for stand in line.standings}
    return gate_of(desk.records(), line.case.id, accounts, line.today)


def _page(shown: Case, opening: OpenWayForm | None = None, ending: EndWayForm | None = None) -> str:
    line = line_for(shown)
    gate = _gate(line)
    ways, way = told_ways(desk.records(), shown.id), way_today(line)
    form = opening or _empty(line.today)
    form.way_step.offered = steps_offered()
    return render_template(
        "returning/way.html",
        line=line,
        shown=shown,
        way=way,
        ways=[(on, each) for on, each in reversed(ways)],
        way_seal=seal(ways),
        gate=gate,
        is_asked=is_asked(gate),
        ladders=the_ladders(),
        ladder_choices=[
            ("", desk.words().say(CHOOSE)),
            *((id_, desk.words().say(page.name)) for id_, page in the_ladders().items()),
        ],
        step_choices=[(step, step) for step in steps_offered()],
        outings=_outings(way.days) if way else (),
        opening=form,
        ending=ending or EndWayForm(prefix="end"),
        reasons=RETURN_REASONS,
        amounts=AMOUNTS,
        say=desk.words().say,
    )


def _outings(days: Sequence[ReturnDay]) -> list[ReturnDay]:
    """Return the days with sport and those that moved the ladder, the newest first."""
    moving = [day for day in days if day.sport.minutes is not None or day.closed.state.step != day.state.step]
    return list(reversed(moving))[:DAYS_SHOWN]


def _empty(today: date) -> OpenWayForm:
    form = OpenWayForm(prefix="way")
    if form.way_from.data is None:
        form.way_from.data = today
    return form


def open_way(public_id: str) -> Response | tuple[str, int]:
    """Open a way back, or show the page again with the faults."""
    shown = desk.known_case(public_id)
    form, line = OpenWayForm(prefix="way"), line_for(shown)
    gate = _gate(line)
    if not form.judge(line.today, gate):
        return _page(shown, form), 400
    on = form.way_from.data
    assert on is not None
    try:
        put_way(desk.records(), shown.id, OPENED, on, form.body(gate), form.way_seen.data or "", now=desk.now())
    except WayChangedError:
        form.ladder.errors = [Fault("new_way", "ladder", "")]
        return _page(shown, form), 400
    desk.say_later("way_opened", on)
    return _back(shown)


def end_way(public_id: str) -> Response | tuple[str, int]:
    """End a way back, or show the page again with the faults."""
    shown = desk.known_case(public_id)
    form, today = EndWayForm(prefix="end"), line_for(shown).today
    if not form.validate():
        return _page(shown, ending=form), 400
    try:
        put_way(desk.records(), shown.id, ENDED, today, form.body(), form.way_seen.data or "", now=desk.now())
    except WayChangedError:
        form.end_reason.errors = [Fault("new_way", "end_reason", "")]
        return _page(shown, ending=form), 400
    desk.say_later("way_ended", today)
    return _back(shown)


def _back(shown: Case) -> Response:
    return redirect(url_for("practice.returning.show_way", public_id=shown.public_id), 303)

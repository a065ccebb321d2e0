"""The caseload page: who needs the practitioner, the most urgent first."""

from functools import partial
from time import perf_counter
from types import SimpleNamespace
from typing import Any

from flask import redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.caseload.groups import MOST, causes_counted, groups_of
from webapp.practice.caseload.lines import Caseload, CaseloadLine, caseload_of
from webapp.practice.caseload.steps import step_of
from webapp.practice.caseload.wanted import OFFERED, Wanted
from webapp.practice.plots import strips
from webapp.words.causes import cause_name, cause_text, short_day_text, since_text

LONGEST_SECONDS = 0.5
"""The longest time in which one request reads logs; with the page itself the answer then takes under a second."""


def show() -> str:
    """Show the caseload page.

    After an update of the program every client's log must be read again. This request waits for some of them only.
    """
    until = perf_counter() + LONGEST_SECONDS
    return page(caseload_of(desk.records(), desk.signed_in().id, desk.now(), lambda: perf_counter() < until))


def page(found: Caseload) -> str:
    """Render the caseload page with what the address looks for."""
    wanted = Wanted.read(request.args)
    fitting = [line for line in found.lines if wanted.fits(line)]
    return render_template(
        "caseload/page.html",
        **found._asdict(),
        wanted=wanted,
        offered=OFFERED,
        fitting=fitting,
        found_archived=[each for each in found.archive if wanted.fits_archived(each)][:MOST],
        groups=groups_of(fitting, wanted),
        causes_there=causes_counted(found.lines),
        days=_days_of(fitting),
        said=_said(),
        step_of=step_of,
        drawn=strips.all_drawn,
        strip_height=strips.HEIGHT,
    )


def _said() -> SimpleNamespace:
    """Return the functions that write causes as sentences in the language of the site."""
    words = desk.words()

    def cause(line: CaseloadLine, number: int = 0) -> str:
        weights = line.case.intake.get("weights", ())
        return cause_text(words, line.causes[number], line.unread_letters, weights)

    return SimpleNamespace(
        cause=cause,
        since=partial(since_text, words),
        name=partial(cause_name, words),
        day=partial(short_day_text, words),
    )


def _days_of(lines: list[CaseloadLine]) -> dict[str, Any]:
    """Return the first day of each week of the strips with the place of its column, or nothing where the clients' days differ."""
    days = {strip.first: len(strip.marks) for line in lines for strip in line.strips}
    if len(days) != 1:
        return {}
    ((first, count),) = days.items()
    width = strips.left_of(count - 1) + strips.DAY_WIDTH
    weeks = [
        (first + strips.ONE_DAY * number, 100 * strips.left_of(number) / width)
        for number in range(0, count, strips.WEEK)
    ]
    return {"weeks": weeks, "today": lines[0].today}


def show_with_slash() -> Response:
    """Redirect from the address with a slash to the caseload's own address."""
    return redirect(url_for("practice.caseload.show"), 308)

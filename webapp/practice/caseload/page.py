"""The caseload page: every client of the practitioner, the most urgent first."""

from time import perf_counter

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.caseload.lines import Caseload, caseload_of, counts_of

LONGEST_SECONDS = 0.5
"""The longest time in which one request reads logs; with the page itself the answer then takes under a second."""


def show() -> str:
    """Show the caseload page.

    After an update of the program every client's log must be read again. This request waits for some of them only.
    """
    until = perf_counter() + LONGEST_SECONDS
    return page(caseload_of(desk.records(), desk.signed_in().id, desk.now(), lambda: perf_counter() < until))


def page(found: Caseload) -> str:
    """Render the caseload page."""
    return render_template("caseload/page.html", **found._asdict(), counts=counts_of(found.lines))


def show_with_slash() -> Response:
    """Redirect from the address with a slash to the caseload's own address."""
    return redirect(url_for("practice.caseload.show"), 308)

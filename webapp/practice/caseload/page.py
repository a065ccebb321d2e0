"""The caseload: every client of the practitioner, whoever needs them first at the top."""

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.caseload.lines import counts_of, lines


def show() -> str:
    """Show the caseload."""
    told = lines(desk.records(), desk.signed_in().id, desk.now())
    return render_template("caseload/page.html", lines=told, counts=counts_of(told))


def show_with_slash() -> Response:
    """Lead to the caseload's one address."""
    return redirect(url_for("practice.caseload.show"), 308)

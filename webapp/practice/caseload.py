"""The caseload: every client of the practitioner, whoever needs them first at the top."""

from collections import Counter
from collections.abc import Sequence

from flask import redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.practice import blueprint, desk
from webapp.practice.standing import Line, line_of
from webapp.records import cases
from webapp.records.cases import Contact

NO_CONTACT = Contact(0, None)


def lines() -> list[Line]:
    """Put together where each of the practitioner's clients stands, the most urgent first, then by name."""
    db, by = desk.records(), desk.signed_in().id
    contacts, now = cases.contacts(db, by), desk.now()
    told = [line_of(db, case, contacts.get(case.id, NO_CONTACT), now) for case in cases.of_practitioner(db, by)]
    return sorted(told, key=lambda line: line.urgency)


def counts_of(told: Sequence[Line]) -> Counter[str]:
    """Count the clients that are held, resting or silent."""
    counts = Counter(mode for line in told for mode in {stand.mode for stand in line.standings})
    counts["silent"] = sum(line.is_silent for line in told)
    return counts


@blueprint.get("")
def caseload() -> str:
    """Show the caseload."""
    told = lines()
    return render_template("pages/practice_caseload.html", lines=told, counts=counts_of(told))


@blueprint.get("/")
def caseload_with_slash() -> Response:
    """Lead to the caseload's one address."""
    return redirect(url_for("practice.caseload"), 308)

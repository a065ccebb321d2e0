"""The page for a client whose log cannot be folded: any page about that client answers with it, and nothing else is stopped."""

from flask import g, render_template
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.standing import line_for
from webapp.records.cases import Case
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD

STATUS = 500


def is_readable(case: Case) -> bool:
    """Whether a client's log can be folded."""
    try:
        line_for(case)
    except FAULTS_OF_A_FOLD:
        return False
    return True


def answer_to_fault() -> Response | None:
    """Return the page that says so, if the request that failed was about a client whose log cannot be folded; else None."""
    shown = g.get("case")
    if not isinstance(shown, Case) or is_readable(shown):
        return None
    g.zone = desk.practice().zone
    return Response(render_template("desk/broken_log.html", shown=shown), STATUS, mimetype="text/html")

"""Keeps who did what at the desk: every act that a page answers to, every sign-in, everything that leaves as a file.

An act is known by the name of its address. So a new act of any subject is kept without a line of its own.
"""

from flask import g, request
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.records import history
from webapp.records.cases import Case

SEE_OTHER, SEND_ON, FINE = 303, 307, 200
NOTHING_DONE = frozenset(
    {
        "looked",
        "send_again",
        "not_held",
        "offer_gone",
        "arm_moved",
        "not_withdrawn",
        "nothing_waits",
        "intake_same",
        "has_clients",
        "last_owner",
        "no_code",
        "role_stays",
        "nobody_handed_over",
    }
)
"""The notices of an act that changed nothing."""


def begin() -> None:
    """Before every page, once the sign-in is known: note how much this request's connection has written so far."""
    g.written = desk.records().conn.total_changes


def keep(response: Response) -> Response:
    """Keep what this request did, after it was done. A form that is sent twice and writes once is kept once."""
    who, shown = g.get("practitioner"), g.get("case")
    if who and (_is_act(response) or _is_taken_along(response)):
        client = shown.id if isinstance(shown, Case) else None
        history.note(desk.records(), who.id, str(request.endpoint), desk.now(), client)
    return response


def _is_act(response: Response) -> bool:
    if request.method != "POST" or g.get("said") in NOTHING_DONE or not _has_written():
        return False
    return response.status_code in {SEE_OTHER, SEND_ON}


def _has_written() -> bool:
    return "written" in g and bool(desk.records().conn.total_changes != g.written)


def _is_taken_along(response: Response) -> bool:
    disposition = response.headers.get("Content-Disposition", "")
    return response.status_code == FINE and disposition.startswith("attachment")

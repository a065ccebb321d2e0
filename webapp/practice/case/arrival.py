"""How far an invited phone has come: joined, asked, with a routine, through a first session. A page, and the same for a script."""

from typing import NamedTuple

from flask import Response, jsonify, render_template, request

from webapp.practice import desk
from webapp.records import devices, events, routines
from webapp.records.cases import Case
from webapp.sync.case.screening import screening_of

LONGEST_INSTANT = 40


class ArrivalSteps(NamedTuple):
    """What has happened: a phone joined since the invitation, the questions are answered, a phone has the routine, a session is done."""

    joined: bool
    answered: bool
    received: bool
    trained: bool


def steps_of(case: Case, since: str) -> ArrivalSteps:
    """Return how far a client's phones have come; `since` is the instant, UTC text, after which a joined phone is the invited one."""
    db = desk.records()
    joined = any(device.joined_at > since for device in devices.of_client(db, case.id))
    versions = routines.of_client(db, case.id)
    received = any(version.received_on for version in versions)
    waits_for = screening_of(db, case.id).waits_for
    trained = events.is_any_of(db, case.id, "session_finished")
    return ArrivalSteps(joined, waits_for not in {"screening", "intake"}, received, trained)


def show(public_id: str) -> str:
    """Show how far the phone has come, for a browser without scripts."""
    case, since = desk.own_case(public_id), _since()
    return render_template("case/arrival.html", shown=case, since=since, steps=steps_of(case, since))


def tell(public_id: str) -> Response:
    """Return the same as JSON, for the script of the invitation's page."""
    return jsonify(steps_of(desk.own_case(public_id), _since())._asdict())


def _since() -> str:
    return request.args.get("since", "")[:LONGEST_INSTANT]

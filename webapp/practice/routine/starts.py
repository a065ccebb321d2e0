"""What the routine desk starts from: the newest version, an earlier one, the starter, another client's routine, one that is offered."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from flask import abort

from webapp.dosing.settings import ARMS
from webapp.library.client import BODY_KEYS
from webapp.library.routine import starter
from webapp.practice import desk
from webapp.practice.routine.form import completed
from webapp.records import cases, offered_routines, routines
from webapp.records.cases import Case
from webapp.records.routines import RoutineVersion

STARTER, VERSION, CLIENT, OFFERED = "starter", "version", "client", "offered"
OF_A_VERSION = ("weights", "weights_kg", "usual", "clinician_seen")


class Beginning(NamedTuple):
    """The first entries of the form: a completed routine, and the client's settings."""

    routine: dict[str, Any]
    settings: Mapping[str, Any]


class Offered(NamedTuple):
    """One of the beginnings that are offered: its value in the address, its kind, its number or name, its title, since when."""

    value: str
    kind: str
    named: object
    title: str
    at: str = ""


def from_intake(case: Case) -> dict[str, Any]:
    """Return the settings of a client's first version, from the intake."""
    intake = case.intake
    names = ("mass_kg", "height_m", "sex", "arms", "weights", "usual", "clinician_seen", "start_rungs")
    return {name: intake[name] for name in names if name in intake}


def corrected(case: Case, settings: Mapping[str, Any]) -> dict[str, Any]:
    """Return the settings of a version with the body and the arms of the intake, which may have been corrected since.

    No arm is taken away: what a routine was pushed for has a history, and perhaps a hold.
    """
    body = {name: case.intake[name] for name in BODY_KEYS if name in case.intake}
    arms = {*settings["arms"], *case.intake.get("arms", ())}
    has_more = len(arms) > len(settings["arms"])
    return {**settings, **body, "arms": [arm for arm in ARMS if arm in arms] if has_more else settings["arms"]}


def _starter(case: Case) -> dict[str, Any]:
    begun = completed(starter(case.intake["area"]))
    return {**begun, "tuning": desk.tuned(begun["tuning"])}


def beginning(case: Case, newest: RoutineVersion | None, chosen: str) -> Beginning:
    """Return what the form starts from; 404 for something that this practitioner does not have.

    Args:
        case: The client.
        newest: The newest version, or None.
        chosen: "" for the newest version, else the value of one that is offered.
    """
    now = corrected(case, newest.settings) if newest else from_intake(case)
    kind, _, which = chosen.partition("-")
    if not chosen:
        return Beginning(completed(newest.routine) if newest else _starter(case), now)
    if kind == STARTER:
        return Beginning(_starter(case), now)
    if kind == VERSION:
        return _of_version(case, now, which)
    if kind == OFFERED:
        return Beginning(_of_practice(case, which), now)
    return Beginning(_of_another(case, which) if kind == CLIENT else abort(404), now)


def _of_version(case: Case, now: Mapping[str, Any], number: str) -> Beginning:
    # The body and the arms are those of today: they may have been corrected since.
    versions = routines.of_client(desk.records(), case.id)
    found = next((each for each in versions if str(each.version) == number), None) or abort(404)
    back = {name: found.settings[name] for name in OF_A_VERSION if name in found.settings}
    return Beginning(completed(found.routine), {**now, **back, "start_rungs": {}})


def _of_another(case: Case, public_id: str) -> dict[str, Any]:
    other = cases.find(desk.records(), desk.signed_in().id, public_id) or abort(404)
    newest = routines.latest(desk.records(), other.id) or abort(404)
    routine = completed(newest.routine)
    # A jump was accepted for that client alone.
    return {
        **routine,
        "area": case.intake["area"],
        "tuning": {**routine["tuning"], "accepted_jumps_kg": []},
    }


def _of_practice(case: Case, key: str) -> dict[str, Any]:
    found = offered_routines.of_practice(desk.records(), desk.practice().id)
    chosen = next((each for each in found if each.key == key), None) or abort(404)
    return {**completed(chosen.routine), "area": case.intake["area"]}


def offered(case: Case) -> list[Offered]:
    """List what may be started from: this client's versions, the starter, what is offered in the practice, the other clients."""
    db, me = desk.records(), desk.signed_in().id
    own = [
        Offered(f"{VERSION}-{each.version}", VERSION, each.version, each.routine["title"])
        for each in routines.of_client(db, case.id)
    ]
    titles = routines.titles_of_practitioner(db, me)
    others = [
        Offered(f"{CLIENT}-{other.public_id}", CLIENT, other.name, titles[other.id])
        for other in cases.of_practitioner(db, me)
        if other.id in titles and other.id != case.id
    ]
    shared = [
        Offered(f"{OFFERED}-{each.key}", OFFERED, each.by_name, each.routine["title"], each.offered_at)
        for each in offered_routines.of_practice(db, desk.practice().id)
    ]
    return [*own, Offered(STARTER, STARTER, "", ""), *shared, *others]

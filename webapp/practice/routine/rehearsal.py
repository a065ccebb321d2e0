"""The rehearsal: the desk plays a session of a routine version as the phone does. Nothing is logged."""

from collections.abc import Sequence
from functools import partial

from flask import abort, render_template, request

from webapp.dosing.state import MOST_EASE
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.routine.weeks_ahead import courses_of
from webapp.practice.standing import Standing, line_for
from webapp.records import routines
from webapp.sync.bundle.bundle import Prescribed, prescribed
from webapp.sync.bundle.rehearsal import rehearsal_of
from webapp.words.amounts import load_text

SPEEDS = (1, 2, 4, 8)


def _chosen(prescription: Prescribed, standings: Sequence[Standing]) -> tuple[int, int]:
    """Return the rung and the ease from the address; without a rung on the ladder those of today, of the first arm."""
    rung = request.args.get("rung", type=int)
    ease = request.args.get("ease", 0, type=int)
    if rung is None or not 1 <= rung <= prescription.plan.ladder.top:
        today = courses_of(standings, None, prescription.plan)[0].after.state
        return today.rung, today.ease
    return rung, ease if 0 <= ease <= MOST_EASE else 0


def rehearse(public_id: str, version: int) -> str:
    """Show the player with one version of one of the practitioner's own clients."""
    case = desk.known_case(public_id)
    found = routines.find(desk.records(), case.id, version) or abort(404)
    prescription = prescribed(found.routine, found.settings, found.version, found.note)
    rung, ease = _chosen(prescription, line_for(case).standings)
    return render_template(
        "routine/rehearsal.html",
        shown=case,
        version=found,
        rungs=prescription.plan.ladder.rungs,
        load=partial(load_text, desk.words(), weights=prescription.weights),
        rung=rung,
        ease=ease,
        speeds=SPEEDS,
        played=rehearsal_of(prescription, rung, ease, desk.words(), the_shelf()),
    )

"""What a phone tells of a session: every set as it was played, and its share of the day's asked work."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING, Any

from webapp.dosing import ways
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.dose import ease_of, range_of
from webapp.dosing.responses import WHOLE_SHARE
from webapp.dosing.state import MOST_EASE

if TYPE_CHECKING:
    from collections.abc import Mapping

    from webapp.dosing.dose import Dose, DoseSet
    from webapp.dosing.settings import Body

SESSION_SECONDS = 640
SESSION_STEPS = 24
SHARP_RATING = 8
CUT_SHORT = ("stopped", "sharp")


def session_body(asked: Mapping[str, Dose], body: Body, worst: int, told: Mapping[str, Any]) -> dict[str, Any]:
    """Build the body of a finished session.

    Args:
        asked: What the day asks, by arm.
        body: Whose wrist.
        worst: The rating of each arm; a sharp first arm is rated higher.
        told: What else was told of it: eased, ways, ended, why, note, sharp_told.
    """
    ended = told.get("ended", "completed")
    done = SESSION_STEPS // 2 if ended in CUT_SHORT else SESSION_STEPS
    arms = {
        arm: {**_rating(worst, is_sharp=ended == "sharp" and place == 0), "sets": _sets(dose, body, told)}
        for place, (arm, dose) in enumerate(asked.items())
    }
    plain = {"routine": 1, "arms": arms, "asked_steps": SESSION_STEPS, "done_steps": done, "ended": ended}
    seconds = SESSION_SECONDS * done // SESSION_STEPS
    return {**plain, "active_seconds": seconds, "why": "", "note": "", "gaps": [], **told}


def _rating(worst: int, *, is_sharp: bool) -> dict[str, Any]:
    return {"worst": SHARP_RATING if is_sharp else worst, "sharp": is_sharp}


def _sets(dose: Dose, body: Body, told: Mapping[str, Any]) -> list[dict[str, Any]]:
    counts = ways.short_reps(dose) if "short" in told.get("ways", ()) else [one.reps for one in dose.sets]
    reached = len(dose.sets) // 2 if told.get("ended") in CUT_SHORT else len(dose.sets)
    eased = {(entry["movement"], entry["what"]) for entry in told.get("eased", ())}
    played = []
    for place, (one, reps) in enumerate(zip(dose.sets, counts, strict=True)):
        is_left_out = place >= reached or (one.movement, "leave") in eased
        share = _smaller(one.range) if (one.movement, "range") in eased else one.range
        played.append(_set(one, 0 if is_left_out else reps, share, _share(one, body, reps, share) // dose.sessions))
    return played


def _set(one: DoseSet, reps: int, moved: float, share: int) -> dict[str, Any]:
    plain = {"movement": one.movement, "reps": reps, "load_kg": one.load_kg, "range": moved}
    return {**plain, "share": share if reps else 0}


def _smaller(moved: float) -> float:
    """Return the next smaller range, or the same where there is none."""
    return range_of(min(MOST_EASE, ease_of(moved) + 1))


def _share(one: DoseSet, body: Body, reps: int, moved: float) -> int:
    """Return the work of a set as it was played, per mille of the set as it was asked."""
    work_j = reps * work_of_rep_j(body, one.load_kg, *arc_degrees(one.direction, moved))
    return min(WHOLE_SHARE, floor(WHOLE_SHARE * work_j / one.work_j + 1e-9))

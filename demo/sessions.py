"""The body of a finished session as a phone sends it: each set as it was played, and its share of the day's work."""

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


def session_body(
    doses: Mapping[str, Dose], body: Body, worst: int | None, details: Mapping[str, Any]
) -> dict[str, Any]:
    """Build the body of a finished session.

    Args:
        doses: The dose of the day, by arm.
        body: The client's body.
        worst: The rating of each arm, 0 to 10, or None where it was not rated; after sharp pain the first arm has a higher rating.
        details: Other fields of the body: eased, ways, ended, why, note, sharp_told.
    """
    ended = details.get("ended", "completed")
    done = SESSION_STEPS // 2 if ended in CUT_SHORT else SESSION_STEPS
    arms = {
        arm: {
            **_rating(worst, is_sharp=ended == "sharp" and index == 0),
            "sets": _sets(dose, body, details),
            "dose": _dose(dose),
        }
        for index, (arm, dose) in enumerate(doses.items())
    }
    plain = {"routine": 1, "arms": arms, "asked_steps": SESSION_STEPS, "done_steps": done, "ended": ended}
    seconds = SESSION_SECONDS * done // SESSION_STEPS
    return {**plain, "active_seconds": seconds, "why": "", "note": "", "gaps": [], **details}


def _dose(dose: Dose) -> dict[str, Any]:
    names = ("movement", "reps", "load_kg", "range")
    return {"sessions": dose.sessions, "sets": [{name: getattr(each, name) for name in names} for each in dose.sets]}


def _rating(worst: int | None, *, is_sharp: bool) -> dict[str, Any]:
    return {"worst": SHARP_RATING if is_sharp else worst, "sharp": is_sharp}


def _sets(dose: Dose, body: Body, details: Mapping[str, Any]) -> list[dict[str, Any]]:
    counts = ways.short_reps(dose) if "short" in details.get("ways", ()) else [dose_set.reps for dose_set in dose.sets]
    reached = len(dose.sets) // 2 if details.get("ended") in CUT_SHORT else len(dose.sets)
    eased = {(entry["movement"], entry["what"]) for entry in details.get("eased", ())}
    played = []
    for index, (dose_set, reps) in enumerate(zip(dose.sets, counts, strict=True)):
        is_left_out = index >= reached or (dose_set.movement, "leave") in eased
        share = _smaller(dose_set.range) if (dose_set.movement, "range") in eased else dose_set.range
        played.append(
            _set(dose_set, 0 if is_left_out else reps, share, _share(dose_set, body, reps, share) // dose.sessions)
        )
    return played


def _set(dose_set: DoseSet, reps: int, moved: float, share: int) -> dict[str, Any]:
    plain = {"movement": dose_set.movement, "reps": reps, "load_kg": dose_set.load_kg, "range": moved}
    return {**plain, "share": share if reps else 0}


def _smaller(moved: float) -> float:
    """Return the next smaller range, or the same range if it is the smallest."""
    return range_of(min(MOST_EASE, ease_of(moved) + 1))


def _share(dose_set: DoseSet, body: Body, reps: int, moved: float) -> int:
    """Return the work of a set as it was played, in per mille of the work that the dose has for it."""
    work_j = reps * work_of_rep_j(body, dose_set.load_kg, *arc_degrees(dose_set.direction, moved))
    return min(WHOLE_SHARE, floor(WHOLE_SHARE * work_j / dose_set.work_j + 1e-9))

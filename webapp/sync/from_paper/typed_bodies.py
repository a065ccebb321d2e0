"""The entries of a day that was typed in from paper: their ids, and their bodies as a phone would write them.

Paper holds no sets. What was done is taken from the dose that the sheet asked, and the body says that it was typed in.
"""

import hashlib
from collections.abc import Iterable, Mapping
from datetime import date
from math import ceil, floor
from typing import Any, NamedTuple

from webapp.dosing.dose import Dose, DoseSet, dose
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.sync.folding.returning import WayBack
from webapp.sync.from_paper.typed_days import WHOLE_PER_CENT, Said

WHOLE_SHARE = 1000
_ENOUGH_OF_AN_ID = 32


def entry_id(client: str, on: date, kind: str) -> str:
    """Return the id of an entry: the same for the same client, day and kind, so that typing a day twice writes it once."""
    digits = hashlib.sha256(f"typed {client} {on.isoformat()} {kind}".encode()).hexdigest()[:_ENOUGH_OF_AN_ID]
    # The version 8 of RFC 9562: an id of a form of one's own.
    digits = f"{digits[:12]}8{digits[13:16]}8{digits[17:]}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))


def sheet_dose(plan: Plan, state: State) -> Dose:
    """Return the dose of a day; of a day of rest or of a hold the dose that the arm would have, since the sheet shows it."""
    return dose(plan, state if state.mode == "training" else state._replace(mode="training", rest_days=0))


class Asked(NamedTuple):
    """What an arm was asked on a day: the dose that the client read on the sheet, and the dose by which it is weighed.

    They differ in the second week of a sheet, since the arm may ask more by then than the sheet says.
    """

    read: Dose
    weighed: Dose


def session_body(version: int, arms: Mapping[str, Said], doses: Mapping[str, Asked], by: str) -> dict[str, Any] | None:
    """Return the body of a day's session, or None where no arm had one.

    Args:
        version: The routine version that was followed.
        arms: What paper says, by arm.
        doses: What was asked, by arm. An arm of which nothing was done needs none.
        by: The name of who typed it in.
    """
    trained = {arm: said for arm, said in arms.items() if said.has_session}
    if not trained:
        return None
    reports = {arm: _report(said, doses.get(arm)) for arm, said in trained.items()}
    steps = {arm: len(doses[arm].read.sets) if arm in doses else 0 for arm in trained}
    is_sharp = any(said.sharp for said in trained.values())
    is_whole = all(said.done == WHOLE_PER_CENT for said in trained.values())
    return {
        "routine": version,
        "arms": reports,
        "asked_steps": sum(steps.values()),
        "done_steps": sum(steps[arm] * (said.done or 0) // WHOLE_PER_CENT for arm, said in trained.items()),
        "active_seconds": 0,
        "ended": "sharp" if is_sharp else "completed" if is_whole else "stopped",
        "why": "",
        "note": "",
        "gaps": [],
        "typed_by": by,
    }


def _report(said: Said, ask: Asked | None) -> dict[str, Any]:
    done = said.done or 0
    report: dict[str, Any] = {"worst": said.worst, "sharp": said.sharp, "sets": [], "typed_done": done}
    if ask is None:
        return report
    weighed = ask.weighed
    return {
        **report,
        "sets": [_played(each, ask, done) for each in ask.read.sets] + _left_out(ask),
        "dose": {"sessions": weighed.sessions, "sets": [_asked_set(each) for each in weighed.sets]},
    }


def _asked_set(each: DoseSet) -> dict[str, Any]:
    return {"movement": each.movement, "reps": each.reps, "load_kg": round(each.load_kg, 4), "range": each.range}


def _played(each: DoseSet, ask: Asked, done: int) -> dict[str, Any]:
    reps = ceil(each.reps * ask.read.sessions * done / WHOLE_PER_CENT)
    share = _share_of(each, ask) * done / WHOLE_PER_CENT
    return {**_asked_set(each), "reps": reps, "share": floor(share * WHOLE_SHARE)}


def _share_of(read: DoseSet, ask: Asked) -> float:
    """Return how much of what is asked of a movement the sheet asks, at most 1; by reps where its work cannot be weighed."""
    weighed = next((each for each in ask.weighed.sets if each.movement == read.movement), read)
    mine, whole = (each.work_j if weighed.work_j else each.reps for each in (read, weighed))
    mine, whole = mine * ask.read.sessions, whole * ask.weighed.sessions
    return min(1.0, mine / whole) if whole else 1.0


def _left_out(ask: Asked) -> list[dict[str, Any]]:
    read = {each.movement for each in ask.read.sets}
    return [{**_asked_set(each), "reps": 0, "share": 0} for each in ask.weighed.sets if each.movement not in read]


def morning_body(arms: Mapping[str, Said], by: str) -> dict[str, Any] | None:
    """Return the body of a morning report, or None where no arm has a number."""
    rated = {arm: {"pain": said.morning, "sharp": False} for arm, said in arms.items() if said.morning is not None}
    return {"arms": rated, "typed_by": by} if rated else None


def sport_body(minutes: int, by: str, outing: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return the body of a mark of sport, or None for no minutes.

    Args:
        minutes: How long it was.
        by: The name of who typed it in.
        outing: What a phone adds to sport on the way back (`outing_of`); empty where no way is open.
    """
    return {"what": "sport", "minutes": minutes, "typed_by": by, **outing} if minutes else None


def outing_of(way: WayBack, arms: Iterable[str]) -> dict[str, Any]:
    """Return what makes a mark of sport an outing on an open way back, as a phone writes it. Paper rates no sport, so it is unrated."""
    return {"step": way.step, "up": way.is_first_of_step, "arms": {arm: {"worst": None} for arm in arms}}

"""The closed days of an arm as plain values: for each day its facts, its response, the state after it, and the reasons."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from webapp.dosing.course import ClosedDay
from webapp.dosing.plan import Plan
from webapp.dosing.responses import SHOWN
from webapp.sync.folding.paper import Paper, dose_object
from webapp.words.closed_days import numbers_of


def day_objects(days: Sequence[ClosedDay], plan: Plan) -> list[dict[str, Any]]:
    """Return each closed day as plain JSON values, the oldest first."""
    return [
        {
            "on": day.on.isoformat(),
            "facts": asdict(day.facts),
            "response": SHOWN[day.response],
            "classed_by": day.classed_by,
            "numbers": dict(numbers_of(day, plan)),
            "reasons": list(day.reasons),
            "state_before": day.state_before._asdict(),
            "state_after": day.state_after._asdict(),
            "dose": dose_object(day.dose),
        }
        for day in days
    ]


def account_object(paper: Paper) -> dict[str, Any]:
    """Return the account of a paper diary as plain JSON values."""
    plan = paper.plan
    arms = {arm: day_objects(paper.closed(arm), plan) for arm in plan.client.arms}
    return {"on": paper.on.isoformat(), "arms": arms}

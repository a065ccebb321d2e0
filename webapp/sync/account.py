"""A course told as plain values, day by day: how each was classed, by what, and what followed."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from webapp.dosing.course import ClosedDay
from webapp.dosing.plan import Plan
from webapp.dosing.responses import SHOWN
from webapp.sync.paper import Paper, dose_object
from webapp.words.closed_days import numbers_of


def day_objects(days: Sequence[ClosedDay], plan: Plan) -> list[dict[str, Any]]:
    """Give each closed day as plain JSON values, the oldest first."""
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
    """Give the account of a diary as plain JSON values."""
    plan = paper.plan
    arms = {arm: day_objects(paper.closed(arm), plan) for arm in plan.client.arms}
    return {"on": paper.on.isoformat(), "arms": arms}

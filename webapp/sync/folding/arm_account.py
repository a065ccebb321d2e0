"""The history of one arm up to a day, as the fold leaves it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from webapp.dosing.course import ClosedDay, DayFacts
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.sync.folding.switch import Changed, RungRefusal


@dataclass(frozen=True)
class ArmAccount:
    """The history of one arm up to a day, and its state then.

    Attributes:
        days: All closed days, the oldest first.
        state: The state at the start of the first open day.
        version, plan: The routine version that the arm follows, and its plan.
        reasons: The ids of the rules that led to the state.
        facts: The facts of all days, including open days.
        plans_received: The days on which a version was received, each with the plan that was in force from then on, by day.
        agreed_since: The last day on which the usual pain or the settled ceiling changed, or None.
        released_from: If a release is stored that counts only from a later day, that day; else None.
        refusal, changed: As in `Progress`.
    """

    days: tuple[ClosedDay, ...]
    state: State
    version: int
    plan: Plan
    reasons: tuple[str, ...]
    facts: Mapping[date, DayFacts]
    agreed_since: date | None = None
    released_from: date | None = None
    refusal: RungRefusal | None = None
    changed: Changed | None = None
    plans_received: tuple[tuple[date, Plan], ...] = ()

    def plan_on(self, day: date) -> Plan:
        """Return the plan that was in force on a day."""
        return next((plan for on, plan in reversed(self.plans_received) if on <= day), self.plan)

    def agreed_on(self, day: date) -> date | None:
        """Return the last day up to this one on which the usual pain or the settled ceiling changed, or None."""
        return agreed_since(self.plans_received, day)


def agreed_since(plans: Sequence[tuple[date, Plan]], until: date) -> date | None:
    """Return the last day on which a received version changed the usual pain or the settled ceiling, or None."""
    since, before = None, None
    for on, plan in plans:
        if on <= until:
            agreed = (plan.client.usual, plan.tuning.settled_during)
            since = on if before not in (None, agreed) else since
            before = agreed
    return since

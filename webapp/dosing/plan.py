"""A routine fitted to one client: what every rule reads beside the state."""

from collections.abc import Hashable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from webapp.dosing.ladder import Ladder, Rung, build_ladder
from webapp.dosing.settings import Client, Routine, Tuning
from webapp.dosing.state import State

MOST_USUAL_FOR_A_STEP_UP = 2
STEPS_UP = 2
ONE_CHANGE_DAYS = 3
"""Days between two increases at the slow pace: 72 hours (source: magnusson-2010)."""


@dataclass(frozen=True)
class Plan:
    """A routine, a client, and the ladder that follows from both."""

    routine: Routine
    client: Client
    ladder: Ladder

    @cached_property
    def worked_out(self) -> dict[Hashable, Any]:
        """What others have worked out from this plan before, by what it depends on."""
        return {}

    @property
    def tuning(self) -> Tuning:
        """The routine's tuning."""
        return self.routine.tuning

    def is_top(self, state: State) -> bool:
        """Say whether there is no rung above."""
        return state.rung >= self.ladder.top

    def next_rung(self, state: State) -> Rung:
        """Give the rung above; an IndexError at the top."""
        return self.ladder.rung(state.rung + 1)

    @cached_property
    def most_streak(self) -> int:
        """The settled days in a row after which one more changes nothing."""
        tuning = self.tuning
        return max(self.days_to_widen(), tuning.climb_days, tuning.heavier_days)

    def days_to_widen(self) -> int:
        """Give the settled days that a step of range needs (an eased arm is at the slow pace)."""
        return max(ONE_CHANGE_DAYS, self.tuning.widen_days)

    def slow_days(self, state: State) -> int:
        """Give the settled days that the next rung needs at the slow pace."""
        tuning = self.tuning
        return max(ONE_CHANGE_DAYS, tuning.heavier_days if self.next_rung(state).heavier else tuning.climb_days)

    def fast_days(self, state: State) -> int:
        """Give the settled days that the next rung needs at the faster pace."""
        return self.tuning.fast_heavier_days if self.next_rung(state).heavier else self.tuning.fast_climb_days


def is_fast(state: State) -> bool:
    """Say whether two clean climbs in a row have earned the faster pace."""
    return state.pace >= 2  # noqa: PLR2004 - the rule's own number, named in the rule table


def make_plan(routine: Routine, client: Client) -> Plan:
    """Fit a routine to a client.

    Args:
        routine: Free of faults (see `settings.faults_of_routine`).
        client: Free of faults.
    """
    return Plan(routine, client, build_ladder(routine, client))


def start_rung(plan: Plan) -> int:
    """Give the rung to begin at: as chosen, else two steps up for a usual pain of 0-2, else the bottom."""
    chosen = plan.client.start_rung
    if chosen is None:
        chosen = 1 + STEPS_UP if plan.client.usual <= MOST_USUAL_FOR_A_STEP_UP else 1
    return min(chosen, plan.ladder.top)


def start_state(plan: Plan) -> State:
    """Give the state on the first day of all."""
    return State(rung=start_rung(plan), first_week_day=1)


def carry_over(old: Plan, new: Plan, state: State) -> State:
    """Move a state from one routine's ladder to another's.

    The rung is the highest whose work is not above that of the old one, or the bottom; ease,
    mode and days of gap stay, counts towards a change begin again.
    """
    work = old.ladder.rung(state.rung).work_j
    fitting = [rung.number for rung in new.ladder.rungs if rung.work_j <= work + 1e-9]
    rung = fitting[-1] if fitting else 1
    return state._replace(rung=rung, settled_streak=0, tender_days=0, pace=0)


def released(plan: Plan, rung: int) -> State:
    """End a hold at the rung that the practitioner chose: full range, one session, counts from nothing."""
    return State(rung=max(1, min(rung, plan.ladder.top)))

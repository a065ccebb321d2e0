"""Where an arm stands, and what a new routine version makes of it: carried over, or on the rung that was given to it.

Pure: knows the core alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from webapp.dosing.course import ONE_DAY, ClosedDay
from webapp.dosing.dose import asks_else, dose
from webapp.dosing.hand import again_on, by_hand, is_rise
from webapp.dosing.plan import Plan, carry_over, start_rung
from webapp.dosing.settings import NONE_GIVEN
from webapp.dosing.state import State


@dataclass(frozen=True)
class RungRefusal:
    """A rung given by hand that counted for nothing, since it would have raised an arm soon after a stop or a flare.

    Attributes:
        on: The day on which it came to the phone.
        rung: The rung given.
        troubled_on: The last day of a stop or a flare, at most seven days before `on`, or `on` itself.
        is_held: Whether the arm was held on that day.
    """

    on: date
    rung: int
    troubled_on: date
    is_held: bool

    @property
    def again_on(self) -> date:
        """The first day on which a rise by hand is offered again, were there no other stop or flare."""
        return again_on(self.troubled_on)


@dataclass(frozen=True)
class Changed:
    """When what is asked of an arm last changed: the day from which on, and the ids of the rules that changed it."""

    on: date
    why: tuple[str, ...]


@dataclass(frozen=True)
class Place:
    """Where one arm stands at the start of a day.

    Attributes:
        version: The routine version it follows.
        state: The state.
        troubled_on: The last closed day of a stop or a flare, or None.
        refusal: The rung of this version that counted for nothing, or None.
        changed: The last change of what is asked, or None where there was none.
    """

    version: int
    state: State
    troubled_on: date | None = None
    refusal: RungRefusal | None = None
    changed: Changed | None = None


def is_same_for(old: Plan, new: Plan, arm: str) -> bool:
    """Say whether a version changes nothing for an arm: it differs in title, note or the other arm's rung at most."""
    routine, client = replace(old.routine, title=new.routine.title), replace(old.client, start_rungs=NONE_GIVEN)
    is_chosen = new.client.start_rungs.of(arm) is not None
    return not is_chosen and (routine, client) == (new.routine, replace(new.client, start_rungs=NONE_GIVEN))


def carried(old: Plan, new: Plan, arm: str, state: State) -> State:
    """Return the state in which an arm goes on under a new routine, were no rung given to it.

    A version that changes nothing for this arm leaves every count as it is.
    """
    if is_same_for(old, new, arm):
        return state._replace(first_week_stage=new.stage_from(state.rung, state.first_week_stage))
    return carry_over(old, new, state)


def switched(old: Plan, new: Plan, arm: str, state: State) -> State:
    """Return the state in which an arm goes on under a new routine: carried over, or on the rung given to it."""
    now = carried(old, new, arm, state)
    # Ease and a hold stay.
    return now if new.client.start_rungs.of(arm) is None else by_hand(new, now, start_rung(new, arm))


def asks_for_a_rise(old: Plan, new: Plan, arm: str, state: State) -> bool:
    """Say whether a new routine gives an arm a rung that asks more than its state does, were the arm not held."""
    now = switched(old, new, arm, state._replace(mode="training", rest_days=0))
    return new.client.start_rungs.of(arm) is not None and is_rise(old, state, new, now)


def why_switched(old: Plan, before: State, new: Plan, after: State, arm: str) -> str:
    """Return the id of the reason why an arm stands where a new routine put it, no rung having been refused."""
    if new.client.start_rungs.of(arm) is not None:
        return "own-hand"
    return "carried-to-the-bottom" if is_rise(old, before, new, after) else "carried-over"


def why_begun(
    plans: Mapping[int, Plan], arm: str, end: Place | None, start: Place, reasons: tuple[str, ...]
) -> tuple[str, ...]:
    """Name what led to the start of an arm's day.

    Args:
        plans: By version.
        arm: Which.
        end: Where it stood when the day before was closed; None where it begins on this day.
        start: Where it stands now.
        reasons: The ids of the rules that closed the day before.
    """
    if end is None:
        return ("stop",) if start.state.mode == "held" else ("start",)
    if end.state.mode == "held" != start.state.mode:
        return ("released",)
    old, new = plans[end.version], plans[start.version]
    has_switched = start.version != end.version and not is_same_for(old, new, arm)
    if has_switched and start.state.mode != "held":
        said = "hand-too-soon" if start.refusal else why_switched(old, end.state, new, start.state, arm)
        return (*reasons, said) if start.state.mode == "resting" else (said,)
    return reasons


def last_change(plan: Plan, days: Sequence[ClosedDay]) -> Changed | None:
    """Return the last change of what is asked that closing one of some days brought, or None."""
    doses = [*(day.dose for day in days[1:]), dose(plan, days[-1].state_after)]
    changes = [
        Changed(day.on + ONE_DAY, day.reasons)
        for day, after in zip(days, doses, strict=True)
        if asks_else(day.dose, after)
    ]
    return changes[-1] if changes else None

"""The progress of an arm, and its change by a new routine version: carried over, or moved to the rung that was chosen.

Pure: knows only the core.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from webapp.dosing.course import ONE_DAY, ClosedDay
from webapp.dosing.dose import asks_else, dose
from webapp.dosing.hand import again_on, by_hand, is_rise
from webapp.dosing.plan import Plan, carry_over, start_rung
from webapp.dosing.settings import NONE_EASED, NONE_GIVEN
from webapp.dosing.state import State


@dataclass(frozen=True)
class RungRefusal:
    """A rung that the practitioner chose and that had no effect, since it was a rise soon after a stop or a flare.

    Attributes:
        on: The day on which the version came to the phone.
        rung: The rung that was chosen.
        troubled_on: The last day of a stop or a flare, at most seven days before `on`, or `on` itself.
        is_held: Whether the arm was held on that day.
    """

    on: date
    rung: int
    troubled_on: date
    is_held: bool

    @property
    def again_on(self) -> date:
        """The first day on which a rise by hand is possible again, if there is no other stop or flare."""
        return again_on(self.troubled_on)


@dataclass(frozen=True)
class Changed:
    """The last change of an arm's dose: the first day of the new dose, and the ids of the rules that changed it."""

    on: date
    why: tuple[str, ...]


@dataclass(frozen=True)
class Progress:
    """The progress of one arm, at the start of a day or after a day was closed.

    Attributes:
        version: The routine version that the arm follows.
        state: The arm's state.
        troubled_on: The last closed day of a stop or a flare, or None.
        refusal: The chosen rung of this version that had no effect, or None.
        changed: The last change of the dose, or None.
    """

    version: int
    state: State
    troubled_on: date | None = None
    refusal: RungRefusal | None = None
    changed: Changed | None = None


def is_same_for(old: Plan, new: Plan, arm: str) -> bool:
    """Whether a version changes nothing for an arm: only the title, the note or what is set for the other arm may differ."""
    routine = replace(old.routine, title=new.routine.title)
    clients = [replace(plan.client, start_rungs=NONE_GIVEN, eases=NONE_EASED) for plan in (old, new)]
    return not _is_set_by_hand(new, arm) and routine == new.routine and clients[0] == clients[1]


def _is_set_by_hand(plan: Plan, arm: str) -> bool:
    return (plan.client.start_rungs.of(arm), plan.client.eases.of(arm)) != (None, None)


def carried(old: Plan, new: Plan, arm: str, state: State) -> State:
    """Return the state of an arm that carries on under a new routine without a chosen rung.

    If the version changes nothing for this arm, all counts stay.
    """
    if is_same_for(old, new, arm):
        return state._replace(first_week_stage=new.stage_from(state.rung, state.first_week_stage))
    return carry_over(old, new, state)


def switched(old: Plan, new: Plan, arm: str, state: State) -> State:
    """Return the state of an arm under a new routine: carried over, or as it was set by hand.

    A chosen rung changes neither the ease nor a hold. An ease that was set makes no range wider, and does not touch a hold.
    """
    now = carried(old, new, arm, state)
    if not _is_set_by_hand(new, arm):
        return now
    is_chosen = new.client.start_rungs.of(arm) is not None
    least = 0 if state.mode == "held" else new.client.eases.of(arm) or 0
    if not is_chosen and least <= now.ease:
        return now
    return by_hand(new, now, start_rung(new, arm) if is_chosen else now.rung, max(now.ease, least))


def asks_for_a_rise(old: Plan, new: Plan, arm: str, state: State) -> bool:
    """Whether the rung that a new routine has for an arm brings more work than its state; a hold is ignored here."""
    now = switched(old, new, arm, state._replace(mode="training", rest_days=0))
    return new.client.start_rungs.of(arm) is not None and is_rise(old, state, new, now)


def why_switched(old: Plan, before: State, new: Plan, after: State, arm: str) -> str:
    """Return the id of the reason for an arm's state under a new routine, if no rung was refused."""
    if new.client.start_rungs.of(arm) is not None:
        return "own-hand"
    if new.client.eases.of(arm) is not None:
        return "own-ease"
    return "carried-to-the-bottom" if is_rise(old, before, new, after) else "carried-over"


def why_begun(
    plans: Mapping[int, Plan], arm: str, end: Progress | None, start: Progress, reasons: tuple[str, ...]
) -> tuple[str, ...]:
    """Return the ids of the rules that led to an arm's state at the start of a day.

    Args:
        plans: The plans by version.
        arm: The arm.
        end: The arm's progress after the day before was closed; None if the arm begins on this day.
        start: The arm's progress at the start of the day.
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
    """Return the last change of the dose that any of these closed days brought, or None."""
    after = dose(plan, days[-1].state_after)
    for day in reversed(days):
        if asks_else(day.dose, after):
            return Changed(day.on + ONE_DAY, day.reasons)
        after = day.dose
    return None

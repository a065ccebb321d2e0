"""What one day asks of one arm."""

from dataclasses import dataclass
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.count import is_side
from webapp.dosing.plan import Plan
from webapp.dosing.settings import DIRECTION_OF, Stretch, WarmUp
from webapp.dosing.state import State

HOLD_STEP = int(figures.HOLD_STEP.value)
SHORT_HOLD = int(figures.SHORT_HOLD.value)


@dataclass(frozen=True)
class DoseSet:
    """One set of reps: movement and direction, reps, kilograms, share of the range, joules."""

    movement: str
    direction: str
    reps: int
    load_kg: float
    range: float
    work_j: float


@dataclass(frozen=True)
class Hold:
    """One stretch, held this many seconds."""

    movement: str
    seconds: int


@dataclass(frozen=True)
class Dose:
    """A day's dose.

    Attributes:
        mode: As the state's: training, resting or held.
        sessions: How many times the session is done today; 0 unless training.
        warm_ups, sets, holds: One session, in order.
        work_j: The whole day's work, joules.
    """

    mode: str
    sessions: int = 0
    warm_ups: tuple[WarmUp, ...] = ()
    sets: tuple[DoseSet, ...] = ()
    holds: tuple[Hold, ...] = ()
    work_j: float = 0.0


def hold_seconds(plan: Plan, state: State) -> int:
    """Return how long a stretch is held, in seconds, where the stretch has no longest hold of its own.

    After any change the hold is the routine's shortest, and each settled day makes it longer. An eased or tender arm
    holds 20 s, and goes on so until its first settled day at full range. So a hold lengthens only after a settled day,
    and never on a day on which reps, load or range go up.
    """
    tuning = plan.tuning
    if state.has_short_holds:
        return min(SHORT_HOLD, tuning.hold_shortest_seconds)
    grown = max(0, state.settled_streak) * HOLD_STEP
    return min(tuning.hold_longest_seconds, tuning.hold_shortest_seconds + grown)


class Ask(NamedTuple):
    """The parts of a state that its dose depends on: equal asks mean equal doses."""

    mode: str
    rung: int
    ease: int
    stage: int
    hold_seconds: int


def ask_of(plan: Plan, state: State) -> Ask:
    """Return the parts of a state that its dose depends on."""
    if state.mode != "training":
        return Ask(state.mode, 0, 0, 0, 0)
    return Ask(state.mode, state.rung, state.ease, state.first_week_stage, hold_seconds(plan, state))


def asks_else(before: Dose, after: Dose) -> bool:
    """Say whether two doses differ in mode, sessions, reps, weights or ranges; the length of stretches does not count."""
    return (before.mode, before.sessions, before.sets) != (after.mode, after.sessions, after.sets)


def ease_of(share: float) -> int:
    """Return the step of ease with this share of the range; a ValueError where there is no such step."""
    return [step.value for step in figures.RANGE_BY_EASE].index(share)


def range_of(ease: int) -> float:
    """Return the share of the range at a step of ease."""
    return figures.RANGE_BY_EASE[ease].value


def _set(plan: Plan, movement: str, reps: int, load_kg: float, share: float) -> DoseSet:
    direction = DIRECTION_OF[movement]
    rep = work_of_rep_j(plan.client.body, load_kg, *arc_degrees(direction, share))
    return DoseSet(movement, direction, reps, load_kg, share, rep * reps)


def _sets(plan: Plan, ask: Ask) -> tuple[DoseSet, ...]:
    rung = plan.ladder.rung(ask.rung)
    count = rung.stage(ask.stage).reps
    share = range_of(ask.ease)
    return tuple(
        _set(plan, movement, count.side_reps if is_side(movement) else count.reps, rung.load_kg, share)
        for movement in plan.routine.directions
    )


def _hold(stretch: Stretch, seconds: int) -> Hold:
    longest = stretch.longest_hold_seconds
    return Hold(stretch.movement, seconds if longest is None else min(seconds, longest))


def dose_for(plan: Plan, ask: Ask) -> Dose:
    """Return the dose of an ask; an empty dose when resting or held."""
    if ask.mode != "training":
        return Dose(ask.mode)
    sessions = plan.ladder.rung(ask.rung).stage(ask.stage).sessions
    sets = _sets(plan, ask)
    holds = tuple(_hold(stretch, ask.hold_seconds) for stretch in plan.routine.stretches)
    work = sessions * sum(each.work_j for each in sets)
    return Dose("training", sessions, plan.routine.warm_ups, sets, holds, work)


def dose(plan: Plan, state: State) -> Dose:
    """Return a day's dose from the state at its start. The plan caches doses.

    Args:
        plan: The routine fitted to the client.
        state: A state on the plan's ladder.

    Returns:
        The dose; an empty dose when resting or held.
    """
    ask = ask_of(plan, state)
    known: Dose | None = plan.worked_out.get(ask)
    if known is None:
        known = plan.worked_out[ask] = dose_for(plan, ask)
    return known

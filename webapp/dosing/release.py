"""The end of a hold: where an arm may come back, and the state that a release leaves it in."""

from collections.abc import Iterator
from typing import NamedTuple

from webapp.dosing.closing import Closing, close_gap
from webapp.dosing.plan import Plan
from webapp.dosing.state import MOST_EASE, MOST_GAP_DAYS, State


class Return(NamedTuple):
    """Where an arm may come back after a hold: a rung and a step of ease."""

    rung: int
    ease: int


LEAST = Return(1, MOST_EASE)
"""The least dose there is: the bottom at half range."""


def is_within_stop(plan: Plan, held: State, back: Return) -> bool:
    """Say whether a return asks no more range, no more weight and no longer sets than the dose that was stopped."""
    stood, here = plan.ladder.rung(held.rung), plan.ladder.rung(back.rung)
    sets, most = here.stage(plan.stage_after_stop(held, back.rung)).reps, stood.stage(held.first_week_stage).reps
    return back.ease >= held.ease and here.load_kg <= stood.load_kg and sets.is_within(most)


def fits_within(plan: Plan, held: State, back: Return, limit: Return) -> bool:
    """Say whether a return asks no more range, no more weight and no longer sets than another."""
    here, most = plan.ladder.rung(back.rung), plan.ladder.rung(limit.rung)
    sets, longest = (rung.stage(plan.stage_after_stop(held, rung.number)).reps for rung in (here, most))
    return back.ease >= limit.ease and here.load_kg <= most.load_kg and sets.is_within(longest)


def offer(plan: Plan, held: State) -> Return:
    """Return the most that a release may give: a rung lower at three-quarter range.

    From the bottom or from half range it is the bottom at half range. The rung is the highest one below with no more
    weight and no longer sets than where the arm stopped.
    """
    if held.rung == 1 or held.ease == MOST_EASE:
        return LEAST
    below = (Return(rung, 1) for rung in range(held.rung - 1, 0, -1))
    return next((each for each in below if is_within_stop(plan, held, each)), LEAST)


def returns(plan: Plan, held: State) -> list[Return]:
    """List every return that a release may choose: the offer first, the bottom at half range last."""
    most = offer(plan, held)
    every = (Return(rung, ease) for rung in range(most.rung, 0, -1) for ease in range(most.ease, MOST_EASE + 1))
    return [each for each in every if fits_within(plan, held, each, most) or each == LEAST]


def released(plan: Plan, held: State, chosen: Return, days_held: int = 0) -> State:
    """End a hold at a return that the practitioner chose.

    Where the choice is not allowed, it is the first of `returns` that is no higher in rung and no wider in range. So a
    release never gives more than the offer, and never more than was chosen.

    Args:
        plan: The routine fitted to the client.
        held: The state of the hold.
        chosen: What the practitioner chose.
        days_held: Days without a dose so far, where they are known (see `returns_after`).

    Returns:
        One session, the first week over, all counts at their start, seven settled days owed before the first increase.
        Sets that were still short in the first week are as long as at the stop or shorter, and grow from there.
    """
    allowed = returns_after(plan, held, days_held) if days_held else returns(plan, held)
    fitting = (each for each in allowed if each.rung <= chosen.rung and each.ease >= chosen.ease)
    rung, ease = next(fitting, LEAST)
    return State(rung, ease, plan.streak_after_release, first_week_stage=plan.stage_after_stop(held, rung))


def released_states(plan: Plan, held: State) -> Iterator[State]:
    """Give every state in which a release can leave a held arm."""
    return (released(plan, held, chosen) for chosen in returns(plan, held))


def returns_after(plan: Plan, held: State, days_held: int) -> list[Return]:
    """List where a held arm may come back: never above what the gap rules leave for the days that it was held.

    Args:
        plan: The routine fitted to the client.
        held: The state of the hold.
        days_held: Days without a dose so far.

    Returns:
        As `returns`, the one that asks most first; at least the bottom at half range.
    """
    rung, now = held.rung, held._replace(mode="training")
    for day in range(1, min(days_held, MOST_GAP_DAYS) + 1):
        now = close_gap(plan, Closing(now, ()), day, rung).state
    left = [each for each in returns(plan, held) if each.rung <= now.rung]
    return left or [LEAST]

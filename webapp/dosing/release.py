"""The end of a hold: where an arm may come back, and the state after a release."""

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
"""The smallest dose: the lowest rung at half range."""


def is_within_stop(plan: Plan, held: State, back: Return) -> bool:
    """Say whether a return asks no more range, no more weight and no longer sets than the dose that was stopped."""
    stood, here = plan.ladder.rung(held.rung), plan.ladder.rung(back.rung)
    sets, most = here.stage(plan.stage_after_stop(held, back.rung)).reps, stood.stage(held.first_week_stage).reps
    return back.ease >= held.ease and here.load_kg <= stood.load_kg and sets.is_within(most)


def fits_within(plan: Plan, held: State, back: Return, limit: Return) -> bool:
    """Say whether a return asks no more range, no more weight and no longer sets than the return `limit`."""
    here, most = plan.ladder.rung(back.rung), plan.ladder.rung(limit.rung)
    sets, longest = (rung.stage(plan.stage_after_stop(held, rung.number)).reps for rung in (here, most))
    return back.ease >= limit.ease and here.load_kg <= most.load_kg and sets.is_within(longest)


def offer(plan: Plan, held: State) -> Return:
    """Return the largest return that a release may choose: a lower rung at three-quarter range.

    The rung is the highest below the stop with no more weight and no longer sets than at the stop. For an arm that
    stopped on the lowest rung or at half range, the offer is the lowest rung at half range.
    """
    if held.rung == 1 or held.ease == MOST_EASE:
        return LEAST
    below = (Return(rung, 1) for rung in range(held.rung - 1, 0, -1))
    return next((each for each in below if is_within_stop(plan, held, each)), LEAST)


def returns(plan: Plan, held: State) -> list[Return]:
    """List every return that a release may choose, the offer first and the lowest rung at half range last."""
    most = offer(plan, held)
    every = (Return(rung, ease) for rung in range(most.rung, 0, -1) for ease in range(most.ease, MOST_EASE + 1))
    return [each for each in every if fits_within(plan, held, each, most) or each == LEAST]


def released(plan: Plan, held: State, chosen: Return, days_held: int = 0) -> State:
    """Return the state of an arm after a release to the return that the practitioner chose.

    Where that return is not allowed, the first allowed return with no higher rung and no wider range is used. So a
    release gives no more than the offer, and no more than the practitioner chose.

    Args:
        plan: The routine fitted to the client.
        held: The state of the hold.
        chosen: The return that the practitioner chose.
        days_held: Days without a dose so far, where they are known (see `returns_after`).

    Returns:
        A training state with one session a day. The first week is over, all counts begin again, and seven settled days
        are owed before the first increase. Sets that were still growing are no longer than at the stop, and grow on.
    """
    allowed = returns_after(plan, held, days_held) if days_held else returns(plan, held)
    fitting = (each for each in allowed if each.rung <= chosen.rung and each.ease >= chosen.ease)
    rung, ease = next(fitting, LEAST)
    return State(rung, ease, plan.streak_after_release, first_week_stage=plan.stage_after_stop(held, rung))


def released_states(plan: Plan, held: State) -> Iterator[State]:
    """Yield every state in which a release can leave a held arm."""
    return (released(plan, held, chosen) for chosen in returns(plan, held))


def returns_after(plan: Plan, held: State, days_held: int) -> list[Return]:
    """List where a held arm may come back, on no higher rung than after a gap of as many days.

    Args:
        plan: The routine fitted to the client.
        held: The state of the hold.
        days_held: Days without a dose so far.

    Returns:
        As `returns`, the largest first; at least the lowest rung at half range.
    """
    rung, now = held.rung, held._replace(mode="training")
    for day in range(1, min(days_held, MOST_GAP_DAYS) + 1):
        now = close_gap(plan, Closing(now, ()), day, rung).state
    left = [each for each in returns(plan, held) if each.rung <= now.rung]
    return left or [LEAST]

"""A rung given by hand: what becomes of a state, what is a rise, and when a rise counts for nothing."""

from datetime import date, timedelta

from webapp.dosing import figures
from webapp.dosing.course import DayAccount
from webapp.dosing.dose import dose
from webapp.dosing.plan import Plan, asks_no_more, restarted
from webapp.dosing.responses import SHOWN
from webapp.dosing.state import MOST_EASE, State

TROUBLES = ("sharp", "flared")
"""How a day went that stops a rise by hand, by the names that people read."""
NO_RISE = timedelta(days=int(figures.NO_RISE_DAYS.value))
CLOSE = 1e-9


def by_hand(plan: Plan, state: State, rung: int, ease: int | None = None) -> State:
    """Set an arm's rung, and its range where one is given, as the practitioner chose; counts begin again.

    An arm whose full range comes back holds its stretches short until a settled day. A hold stays, and a held arm is
    not raised: its new rung asks no more weight and no more reps than where it stood.
    """
    now = max(1, min(rung, plan.ladder.top))
    if state.mode == "held":
        stood = plan.ladder.rung(min(state.rung, plan.ladder.top))
        lower = (plan.ladder.rung(number) for number in range(1, min(now, stood.number) + 1))
        fitting = [each.number for each in lower if asks_no_more(each, stood, state.first_week_stage)]
        now = fitting[-1] if fitting else 1
    chosen = state.without_tender_days(state.ease if ease is None else max(0, min(ease, MOST_EASE)))
    return chosen._replace(rung=now, settled_streak=restarted(state), pace=0)


def is_trouble(response: str) -> bool:
    """Say whether a day of this response was a stop or a flare."""
    return SHOWN[response] in TROUBLES


def is_stop(before: State, after: State) -> bool:
    """Say whether an arm came to be held between two states."""
    return after.mode == "held" != before.mode


def has_trouble(day: DayAccount) -> bool:
    """Say whether a closed day was a stop or a flare, or became a hold."""
    return is_trouble(day.response) or is_stop(day.state_before, day.state_after)


def may_not_rise(troubled_on: date | None, day: date) -> bool:
    """Say whether a rise by hand counts for nothing on a day, given the last day of a stop or a flare."""
    return troubled_on is not None and day < again_on(troubled_on)


def again_on(troubled_on: date) -> date:
    """Return the first day on which a rise by hand counts after a stop or a flare."""
    return troubled_on + NO_RISE + timedelta(days=1)


def work_of(plan: Plan, state: State) -> float:
    """Return the joules that a state asks of a day, were it a day of training."""
    return dose(plan, state._replace(mode="training", rest_days=0)).work_j


def is_rise(old: Plan, before: State, new: Plan, after: State) -> bool:
    """Say whether one state under a new plan asks more work or a heavier weight than another under the old one."""
    is_heavier = new.ladder.rung(after.rung).load_kg > old.ladder.rung(before.rung).load_kg
    return is_heavier or work_of(new, after) / work_of(old, before) - 1 > CLOSE

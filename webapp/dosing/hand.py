"""A rung set by hand: the state that follows, what counts as a rise, and when a rise is ignored."""

from datetime import date, timedelta

from webapp.dosing import figures
from webapp.dosing.course import ClosedDay
from webapp.dosing.dose import dose
from webapp.dosing.plan import Plan, asks_no_more, restarted
from webapp.dosing.responses import SHOWN
from webapp.dosing.state import MOST_EASE, State

TROUBLES = ("sharp", "flared")
"""Responses, by the names that people read, after which a rise by hand is ignored for some days."""
NO_RISE = timedelta(days=int(figures.NO_RISE_DAYS.value))
CLOSE = 1e-9


def by_hand(plan: Plan, state: State, rung: int, ease: int | None = None) -> State:
    """Return a state on the rung that the practitioner chose, at the chosen ease or, without one, the same ease.

    All counts begin again. An arm whose full range comes back holds its stretches short until a settled day. A held arm
    stays held and is not raised: its new rung asks no more weight and no more reps than its old rung.
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
    """Say whether an arm is held after a day and was not held before it."""
    return after.mode == "held" != before.mode


def has_trouble(day: ClosedDay) -> bool:
    """Say whether a closed day was a stop or a flare, or became a hold."""
    return is_trouble(day.response) or is_stop(day.state_before, day.state_after)


def may_not_rise(troubled_on: date | None, day: date) -> bool:
    """Say whether a rise by hand is ignored on a day, where `troubled_on` is the last day of a stop or a flare."""
    return troubled_on is not None and day < again_on(troubled_on)


def again_on(troubled_on: date) -> date:
    """Return the first day on which a rise by hand counts after a stop or a flare."""
    return troubled_on + NO_RISE + timedelta(days=1)


def work_of(plan: Plan, state: State) -> float:
    """Return the work that a state would ask of a training day, in joules."""
    return dose(plan, state._replace(mode="training", rest_days=0)).work_j


def is_rise(old: Plan, before: State, new: Plan, after: State) -> bool:
    """Say whether the state `after` under a new plan asks more work or a heavier weight than `before` under the old one."""
    is_heavier = new.ladder.rung(after.rung).load_kg > old.ladder.rung(before.rung).load_kg
    return is_heavier or work_of(new, after) / work_of(old, before) - 1 > CLOSE

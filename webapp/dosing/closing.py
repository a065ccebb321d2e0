"""Closing a day: the state it began in and how it went give the state of the next day, and why.

A day is closed in three steps: its own rule, then the rule of the first week, then, on a day without a session, the
rule of the gap. Only the last one knows the days of gap, and it knows nothing of the response.
"""

from typing import NamedTuple

from webapp.dosing import moves
from webapp.dosing.plan import Plan
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.dosing.rules import ACHING, GAP, OWN, TABLE, TENDER, WEEK, Rule, Table
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS, State

UNCOUNTED = frozenset(RESPONSES) - {"settled", *TENDER, *ACHING}
"""Responses that change no count."""


class Closing(NamedTuple):
    """How a day closed: the next day's state, and the ids of the rules that made it so."""

    state: State
    reasons: tuple[str, ...]


def counted(plan: Plan, state: State, response: str) -> State:
    """Count a day into a state without a gap: settled and tender days, while training."""
    if state.mode != "training" or response in UNCOUNTED:
        return state
    rung, ease, streak, tender, gap, began, day, stage, pace, rest, mode, is_unsettled = state
    streak = min(streak + 1, plan.most_streak) if response == "settled" else min(streak, 0)
    if response in TENDER:
        tender, is_unsettled = tender + 1, False
    elif response != "aching_untold":
        tender, is_unsettled = 0, state.stays_unsettled(ease)
    return State(rung, ease, streak, tender, gap, began, day, stage, pace, rest, mode, is_unsettled)


def without_gap(state: State) -> State:
    """Return a state as the rules of a day and of the first week see it."""
    return state._replace(gap_days=0, gap_rung=0) if state.gap_days else state


def alike(response: str, mode: str, table: Table = TABLE) -> tuple[object, ...]:
    """Return what closing a day depends on, but for its gap: responses with equal keys close every day of a mode alike."""
    kind = response if mode == "training" and response not in UNCOUNTED else ""
    return ("tender" if kind in TENDER else kind, table[OWN, mode, response], table[WEEK, mode, response])


def close_but_for_gap(plan: Plan, state: State, response: str, table: Table = TABLE) -> Closing:
    """Close a day by its own rule and by that of the first week; the days of gap are left out."""
    own = _decided(plan, Closing(counted(plan, state, response), ()), table[OWN, state.mode, response])
    if not own.state.first_week_day:
        return own
    after, reasons = _decided(plan, own, table[WEEK, own.state.mode, response])
    day = after.first_week_day
    return Closing(after._replace(first_week_day=day + 1 if 0 < day < moves.LAST_DAY else 0), reasons)


def _decided(plan: Plan, closing: Closing, rules: tuple[Rule, ...]) -> Closing:
    """Apply the first rule that fits, if one does."""
    state = closing.state
    for rule in rules:
        if rule.holds(state, plan, rule.limit):
            return Closing(rule.then(state, plan), (*closing.reasons, rule.id))
    return closing


def gap_after(state: State) -> tuple[int, int]:
    """Return the days of gap after one more day without a session, and the rung on which they began."""
    return min(state.gap_days + 1, MOST_GAP_DAYS), state.gap_rung or state.rung


def close_gap(plan: Plan, closing: Closing, gap_days: int, began: int, table: Table = TABLE) -> Closing:
    """Apply the rule of the gap to a day without a session that is closed but for it.

    Args:
        plan: The routine fitted to the client.
        closing: By `close_but_for_gap`.
        gap_days: Days in a row without a session, this one included.
        began: The rung on which they began.
        table: The rules by step, mode and response.
    """
    state, reasons = closing
    if state.mode == "held":
        return closing
    now = state._replace(gap_days=gap_days, gap_rung=began)
    after, why = _decided(plan, Closing(now, ()), table[GAP, now.mode, "missed"])
    if gap_days >= HALF_WAY_GAP_DAYS and after.gap_rung:
        after = after._replace(gap_rung=0)
    is_worth_saying = not reasons or why != ("gap-resume",)
    return Closing(after, reasons + why if is_worth_saying else reasons)


def close_day(plan: Plan, state: State, response: str, table: Table = TABLE) -> Closing:
    """Close a day: how it went decides the state on the next.

    Args:
        plan: The routine fitted to the client.
        state: At the start of the day.
        response: One of `responses.RESPONSES`; a ValueError for any other.
        table: The rules by step, mode and response.
    """
    if response not in RESPONSES:
        raise ValueError(response)
    closing = close_but_for_gap(plan, without_gap(state), response, table)
    if response in IDLE:
        closing = close_gap(plan, closing, *gap_after(state), table)
    if not closing.reasons:
        raise LookupError(response)
    return closing

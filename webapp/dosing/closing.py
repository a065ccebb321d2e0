"""Closing a day: from the state at its start and its response to the state of the next day, with the reasons.

A day is closed in three steps: its own rule, then the rule of the first week, then, on a day without a session, the
rule of the gap. Only the rule of the gap reads the days of gap, and it does not read the response.
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
    """How a day closed: the next day's state, and the ids of the rules that decided."""

    state: State
    reasons: tuple[str, ...]


def counted(plan: Plan, state: State, response: str) -> State:
    """Return a state without a gap after its settled and tender days are counted; only training counts."""
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
    """Return a state with its days of gap set to 0; the rules of a day and of the first week do not read them."""
    return state._replace(gap_days=0, gap_rung=0) if state.gap_days else state


def alike(response: str, mode: str, table: Table = TABLE) -> tuple[object, ...]:
    """Return a key for grouping responses: in one mode, responses with equal keys close a day the same.

    The key leaves out the gap. It holds how the day is counted and which rules can decide.
    """
    kind = response if mode == "training" and response not in UNCOUNTED else ""
    return ("tender" if kind in TENDER else kind, table[OWN, mode, response], table[WEEK, mode, response])


def close_but_for_gap(plan: Plan, state: State, response: str, table: Table = TABLE) -> Closing:
    """Close a day by its own rule and the rule of the first week, without the rule of the gap."""
    own = _decided(plan, Closing(counted(plan, state, response), ()), table[OWN, state.mode, response])
    if not own.state.first_week_day:
        return own
    after, reasons = _decided(plan, own, table[WEEK, own.state.mode, response])
    day = after.first_week_day
    return Closing(after._replace(first_week_day=day + 1 if 0 < day < moves.LAST_DAY else 0), reasons)


def _decided(plan: Plan, closing: Closing, rules: tuple[Rule, ...]) -> Closing:
    """Apply the first rule that fits; return the closing as it is where no rule does."""
    state = closing.state
    for rule in rules:
        if rule.holds(state, plan, rule.limit):
            return Closing(rule.then(state, plan), (*closing.reasons, rule.id))
    return closing


def gap_after(state: State) -> tuple[int, int]:
    """Return the days of gap after one more day without a session, and the rung on which the gap began."""
    return min(state.gap_days + 1, MOST_GAP_DAYS), state.gap_rung or state.rung


def close_gap(plan: Plan, closing: Closing, gap_days: int, began: int, table: Table = TABLE) -> Closing:
    """Apply the rule of the gap, the last step of closing a day without a session.

    Args:
        plan: The routine fitted to the client.
        closing: The result of `close_but_for_gap`.
        gap_days: Days in a row without a session, this day included.
        began: The rung on which the gap began.
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
    """Close a day: return the state of the next day and the reasons.

    Args:
        plan: The routine fitted to the client.
        state: The state at the start of the day.
        response: One of `responses.RESPONSES`.
        table: The rules by step, mode and response.

    Raises:
        ValueError: The response is unknown.
        LookupError: No rule of the table decides the day.
    """
    if response not in RESPONSES:
        raise ValueError(response)
    closing = close_but_for_gap(plan, without_gap(state), response, table)
    if response in IDLE:
        closing = close_gap(plan, closing, *gap_after(state), table)
    if not closing.reasons:
        raise LookupError(response)
    return closing

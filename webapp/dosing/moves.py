"""What the rules look at and what they do: conditions on a state, and the states that follow.

Each takes a state with the day already counted in, the plan, and a condition also the rule's limit. Conditions say
whether; moves return the next state. States are built whole, since an almanac builds tens of thousands of them.
"""

from webapp.dosing import figures
from webapp.dosing.plan import Plan
from webapp.dosing.state import FULLER, MOST_EASE, MOST_PACE, SPREAD, TOGETHER, WHOLE, State

LAST_DAY = int(figures.FIRST_WEEK_DAYS.value)
"""The last day of the first week."""
FIRST_CLIMBED_DAY = int(figures.FIRST_CLIMBED_DAY.value)
ONE_CHANGE_DAYS = 3
"""Settled days between two increases, whatever they are: 72 hours (source: magnusson-2010)."""
WEEK_AWAY = 7
"""Days in a row without a session after which the pace is slow again."""

# ------------------------------------------------------------------------------------------------------------- moves


def _moved(state: State, rung: int, ease: int, stage: int, pace: int) -> State:
    """Change a training state so that the counts towards the next change begin again."""
    streak, is_unsettled = min(state.settled_streak, 0), state.stays_unsettled(ease)
    gap = state.gap_days, state.gap_rung
    return State(rung, ease, streak, 0, *gap, state.first_week_day, stage, pace, is_unsettled=is_unsettled)


def same(state: State, _plan: Plan) -> State:
    """Leave the state as it is."""
    return state


def waited(state: State, _plan: Plan) -> State:
    """Leave the dose as it is after a settled day; stretches that were held short for want of one lengthen now."""
    return state._replace(is_unsettled=False) if state.is_unsettled else state


def eased(state: State, _plan: Plan) -> State:
    """Make the range one step smaller."""
    return _moved(state, state.rung, state.ease + 1, state.first_week_stage, 0)


def rung_down(state: State, _plan: Plan) -> State:
    """Go one rung down."""
    return _moved(state, state.rung - 1, state.ease, state.first_week_stage, 0)


def widened(state: State, _plan: Plan) -> State:
    """Give one step of range back; the pace stays, and stretches stay short until a settled day at full range."""
    return _moved(state, state.rung, state.ease - 1, state.first_week_stage, state.pace)


def climbed(state: State, _plan: Plan) -> State:
    """Go one rung up."""
    return _moved(state, state.rung + 1, state.ease, state.first_week_stage, min(MOST_PACE, state.pace + 1))


def fuller(state: State, _plan: Plan) -> State:
    """Go on to the fuller short sessions of the first week."""
    return _moved(state, state.rung, state.ease, FULLER, state.pace)


def grown(state: State, plan: Plan) -> State:
    """Let the sets of the one session grow."""
    return _moved(state, state.rung, state.ease, plan.stage_from(state.rung, state.first_week_stage + 1), state.pace)


def come_together(state: State, plan: Plan) -> State:
    """End the short sessions of the first week."""
    return state._replace(first_week_stage=plan.stage_after_short_sessions(state.rung, state.first_week_stage))


def rested(state: State, _plan: Plan) -> State:
    """Rest from the next day on."""
    return _moved(state, state.rung, state.ease, state.first_week_stage, 0)._replace(rest_days=1, mode="resting")


def eased_and_rested(state: State, plan: Plan) -> State:
    """Rest from the next day on, and come back with one step less range."""
    return rested(eased(state, plan), plan)


def rung_down_and_rested(state: State, plan: Plan) -> State:
    """Rest from the next day on, and come back one rung lower."""
    return rested(rung_down(state, plan), plan)


def rested_on(state: State, _plan: Plan) -> State:
    """Rest one more day."""
    return state._replace(rest_days=state.rest_days + 1)


def rest_over(state: State, _plan: Plan) -> State:
    """Train again."""
    return state._replace(rest_days=0, mode="training")


def held(state: State, _plan: Plan) -> State:
    """Hold an arm with its rung, range and length of sets as they stood; counts are gone."""
    return State(state.rung, state.ease, first_week_stage=state.first_week_stage, mode="held")


def streak_again(state: State, plan: Plan) -> State:
    """Begin the settled streak again; after a release all seven settled days are owed anew."""
    streak = plan.streak_after_release if state.settled_streak < 0 else 0
    pace = 0 if state.gap_days >= WEEK_AWAY else state.pace
    if (streak, pace) == (state.settled_streak, state.pace):
        return state
    return state._replace(settled_streak=streak, pace=pace)


def gone_down(state: State, plan: Plan, rung: int) -> State:
    """Go down to a rung after days without a session; range and rest stay."""
    again = streak_again(state, plan)
    return again.without_tender_days(again.ease)._replace(rung=rung, pace=0)


def half_way(state: State) -> int:
    """Return the rung after two weeks away: half way down or two below where the gap began, whichever is lower."""
    began = state.gap_rung
    return max(1, min(1 + (began - 1) // 2, began - 2, state.rung))


# -------------------------------------------------------------------------------------------------------- conditions


def always(_state: State, _plan: Plan, _limit: int) -> bool:
    """Say yes."""
    return True


def may_ease(state: State, _plan: Plan, _limit: int) -> bool:
    """Say whether the range can be made smaller."""
    return state.ease < MOST_EASE


def at_floor(state: State, _plan: Plan, _limit: int) -> bool:
    """Say whether nothing is left to ease: half range on the lowest rung."""
    return state.ease == MOST_EASE and state.rung == 1


def grows(state: State, _plan: Plan, limit: int) -> bool:
    """Say whether the first week's one session may grow: full range, not whole yet, and enough settled days."""
    return not state.ease and state.first_week_stage >= TOGETHER and state.settled_streak >= limit


def may_get_fuller(state: State, _plan: Plan, limit: int) -> bool:
    """Say whether the first short sessions may become fuller: full range, day `limit` to 5 of the first week.

    On the sixth day it could follow a step of range given back within 72 hours, and would last a day.
    """
    return not state.ease and state.first_week_stage == SPREAD and limit <= state.first_week_day < LAST_DAY - 1


def is_last_short_day(state: State, _plan: Plan, _limit: int) -> bool:
    """Say whether the first week's short sessions end with this day."""
    return state.first_week_day == LAST_DAY and state.first_week_stage in (SPREAD, FULLER)


def widens(state: State, plan: Plan, limit: int) -> bool:
    """Say whether an eased arm has the settled days for a step of range; not as short sessions come together."""
    is_due = state.ease > 0 and state.settled_streak >= plan.tuning.widen_days
    return is_due and not is_last_short_day(state, plan, limit)


def has_rung_above(state: State, plan: Plan) -> bool:
    """Say whether there is full range and a rung above."""
    return not state.ease and not plan.is_top(state)


def is_top(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether there is full range and no rung above."""
    return not state.ease and plan.is_top(state)


def is_too_early(state: State, plan: Plan) -> bool:
    """Say whether the first week still stands in the way of the next rung.

    No rung is climbed before the one session is whole: two increases would meet, and sets would double within days.
    """
    day = state.first_week_day
    if state.first_week_stage != WHOLE:
        return True
    return day > 0 and (day + 1 < FIRST_CLIMBED_DAY or (plan.next_rung(state).heavier and day < LAST_DAY))


def climbs(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether the arm has the settled days for the next rung, and nothing else stands in its way."""
    if not has_rung_above(state, plan) or plan.climbs_by_hand or is_too_early(state, plan):
        return False
    return state.settled_streak >= plan.days_to_climb(state)


def climbs_sooner(state: State, plan: Plan, limit: int) -> bool:
    """Say whether it climbs to a heavier weight before the settled days of the slow pace."""
    is_early = state.settled_streak < plan.tuning.heavier_days
    return is_early and climbs(state, plan, limit) and plan.next_rung(state).heavier


def waits_for_a_hand(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether only the practitioner raises the rung."""
    return plan.climbs_by_hand and has_rung_above(state, plan)


def owes_days(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether settled days are still owed after a release."""
    return state.settled_streak < 1 and plan.streak_after_release < 0


def is_gap(state: State, _plan: Plan, limit: int) -> bool:
    """Say whether the gap has this many days or more."""
    return state.gap_days >= limit

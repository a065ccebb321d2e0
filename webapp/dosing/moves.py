"""The conditions and the moves of the rules.

A move takes a state in which the day is counted, and the plan, and returns the next state. A condition takes the rule's
limit as well, and returns whether the rule fits. `State(...)` is called instead of `_replace` where speed matters: an
almanac builds tens of thousands of states.
"""

from webapp.dosing import figures
from webapp.dosing.plan import Plan
from webapp.dosing.state import FULLER, MOST_EASE, MOST_PACE, SPREAD, TOGETHER, WHOLE, State

LAST_DAY = int(figures.FIRST_WEEK_DAYS.value)
"""The last day of the first week."""
FIRST_CLIMBED_DAY = int(figures.FIRST_CLIMBED_DAY.value)
ONE_CHANGE_DAYS = 3
"""Settled days between any two increases: 72 hours (source: magnusson-2010)."""
WEEK_AWAY = 7
"""Days in a row without a session after which the pace is slow again."""

# ------------------------------------------------------------------------------------------------------------- moves


def _moved(state: State, rung: int, ease: int, stage: int, pace: int) -> State:
    """Return a training state after a change; the counts towards the next change begin again."""
    streak, is_unsettled = min(state.settled_streak, 0), state.stays_unsettled(ease)
    gap = state.gap_days, state.gap_rung
    return State(rung, ease, streak, 0, *gap, state.first_week_day, stage, pace, is_unsettled=is_unsettled)


def same(state: State, _plan: Plan) -> State:
    """Leave the state as it is."""
    return state


def waited(state: State, _plan: Plan) -> State:
    """Keep the dose after a settled day; stretches that stayed short until a settled day lengthen now."""
    return state._replace(is_unsettled=False) if state.is_unsettled else state


def eased(state: State, _plan: Plan) -> State:
    """Make the range one step smaller."""
    return _moved(state, state.rung, state.ease + 1, state.first_week_stage, 0)


def rung_down(state: State, _plan: Plan) -> State:
    """Go one rung down."""
    return _moved(state, state.rung - 1, state.ease, state.first_week_stage, 0)


def widened(state: State, _plan: Plan) -> State:
    """Return one step of range back; the pace stays, and stretches stay short until a settled day at full range."""
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
    """Hold an arm; keep its rung, its range and its stage, and drop its counts."""
    return State(state.rung, state.ease, first_week_stage=state.first_week_stage, mode="held")


def streak_again(state: State, plan: Plan) -> State:
    """Begin the settled streak again; where days are owed after a release, all seven are owed again."""
    streak = plan.streak_after_release if state.settled_streak < 0 else 0
    pace = 0 if state.gap_days >= WEEK_AWAY else state.pace
    if (streak, pace) == (state.settled_streak, state.pace):
        return state
    return state._replace(settled_streak=streak, pace=pace)


def gone_down(state: State, plan: Plan, rung: int) -> State:
    """Go down to a rung after days without a session; keep the range and the days of rest."""
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

    Not on the sixth day: a step of range may have come back less than 72 hours before, and the fuller sessions would
    last for one day only.
    """
    return not state.ease and state.first_week_stage == SPREAD and limit <= state.first_week_day < LAST_DAY - 1


def is_last_short_day(state: State, _plan: Plan, _limit: int) -> bool:
    """Say whether the first week's short sessions end with this day."""
    return state.first_week_day == LAST_DAY and state.first_week_stage in (SPREAD, FULLER)


def widens(state: State, plan: Plan, limit: int) -> bool:
    """Say whether an eased arm has enough settled days for a step of range, and short sessions do not end this day."""
    is_due = state.ease > 0 and state.settled_streak >= plan.tuning.widen_days
    return is_due and not is_last_short_day(state, plan, limit)


def has_rung_above(state: State, plan: Plan) -> bool:
    """Say whether the arm is at full range and there is a rung above."""
    return not state.ease and not plan.is_top(state)


def is_top(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether the arm is at full range on the highest rung."""
    return not state.ease and plan.is_top(state)


def is_too_early(state: State, plan: Plan) -> bool:
    """Say whether the first week still forbids the next rung.

    No rung is climbed before the one session is whole. Otherwise two increases would come together, and sets would
    double within days.
    """
    day = state.first_week_day
    if state.first_week_stage != WHOLE:
        return True
    return day > 0 and (day + 1 < FIRST_CLIMBED_DAY or (plan.next_rung(state).heavier and day < LAST_DAY))


def climbs(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether the arm has enough settled days for the next rung, and nothing else forbids it."""
    if not has_rung_above(state, plan) or plan.climbs_by_hand or is_too_early(state, plan):
        return False
    return state.settled_streak >= plan.days_to_climb(state)


def climbs_sooner(state: State, plan: Plan, limit: int) -> bool:
    """Say whether the arm climbs to a heavier weight after fewer settled days than the slow pace asks."""
    is_early = state.settled_streak < plan.tuning.heavier_days
    return is_early and climbs(state, plan, limit) and plan.next_rung(state).heavier


def waits_for_a_hand(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether there is a rung above and only the practitioner may raise the arm to it."""
    return plan.climbs_by_hand and has_rung_above(state, plan)


def owes_days(state: State, plan: Plan, _limit: int) -> bool:
    """Say whether settled days are still owed after a release."""
    return state.settled_streak < 1 and plan.streak_after_release < 0


def is_gap(state: State, _plan: Plan, limit: int) -> bool:
    """Say whether the gap has this many days or more."""
    return state.gap_days >= limit

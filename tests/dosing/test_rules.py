"""Each rule by its own story."""

from dataclasses import replace

import pytest

from tests.dosing.spread import plan_for
from webapp.dosing.plan import carry_over, released, start_state
from webapp.dosing.rules import RULES, close_day
from webapp.dosing.state import State

PLAN = plan_for()


def after(state, *responses, plan=PLAN):
    for response in responses:
        state = close_day(plan, state, response).state
    return state


def why(state, response, plan=PLAN):
    return close_day(plan, state, response).reasons


def test_the_start_follows_the_usual_pain():
    # Our own choice: usual pain 0-2 two steps up, 3-5 at the bottom.
    assert start_state(plan_for(usual=2)).rung == 3
    assert start_state(plan_for(usual=3)).rung == 1
    assert start_state(plan_for(start_rung=5)).rung == 5
    assert start_state(plan_for(weights=(0.0,), start_rung=50)).rung == 6


def test_three_settled_days_earn_one_rung():
    assert after(State(3), "settled", "settled").rung == 3
    assert after(State(3), "settled", "settled", "settled") == State(4, pace=1)
    assert why(State(3, settled_streak=2), "settled") == ("climb",)


def test_a_heavier_weight_takes_seven_settled_days():
    assert after(State(6), *["settled"] * 6).rung == 6
    assert after(State(6), *["settled"] * 7).rung == 7


def test_two_clean_climbs_earn_the_faster_pace_and_any_setback_loses_it():
    fast = State(3, pace=2)
    assert after(fast, "settled", "settled").rung == 4
    assert why(State(3, pace=2, settled_streak=1), "settled") == ("pace",)
    for setback in (["flared"], ["tender"] * 4, ["missed"] * 7):
        assert after(fast, *setback).pace == 0
    assert after(fast, "tender", "unreported", "missed").pace == 2


def test_at_the_slow_pace_two_increases_are_never_within_72_hours():
    # Tendon collagen synthesis stays up about three days: Magnusson 2010 (seen second-hand).
    eager = plan_for(climb_days=2, widen_days=2)
    assert after(State(3), "settled", "settled", plan=eager).rung == 3
    assert after(State(3), *["settled"] * 3, plan=eager).rung == 4
    assert after(State(3, ease=1), *["settled"] * 2, plan=eager).ease == 1


def test_range_comes_back_before_anything_else():
    back = after(State(4, ease=2), *["settled"] * 3)
    assert (back.ease, back.rung) == (1, 4)
    assert after(back, *["settled"] * 3) == State(4)


def test_a_flare_rests_a_day_and_comes_back_eased():
    flared = after(State(5, pace=2, settled_streak=2), "flared")
    assert flared == State(5, ease=1, mode="resting")
    assert after(flared, "missed") == State(5, ease=1)
    assert after(flared, "flared") == flared
    assert after(State(5, ease=2), "flared") == State(4, ease=2, mode="resting")
    assert after(State(1, ease=2), "flared") == State(1, ease=2, mode="resting")


def test_tender_stays_and_eases_once_past_the_ordinary_three_days():
    # Soreness of one to three days is ordinary (common practice, no source; DOMS 24-72 h, Cheung 2003, seen second-hand).
    state = after(State(5), "tender", "tender", "tender")
    assert (state.rung, state.ease, state.tender_days) == (5, 0, 3)
    assert after(state, "tender") == State(5, ease=1)
    assert after(State(5, ease=2, tender_days=3), "tender") == State(4, ease=2)


def test_an_unreported_day_neither_helps_nor_harms():
    state = State(5, settled_streak=2, tender_days=0, pace=1)
    assert after(state, "unreported") == state
    assert after(State(5, tender_days=3), "unreported") == State(5, tender_days=3)


@pytest.mark.parametrize(
    ("days", "rung", "streak", "pace"),
    [(1, 11, 2, 2), (2, 11, 2, 2), (3, 11, 0, 2), (6, 11, 0, 2), (7, 9, 0, 0), (13, 9, 0, 0), (14, 6, 0, 0), (27, 6, 0, 0), (28, 1, 0, 0), (90, 1, 0, 0)],
)  # fmt: skip
def test_missed_days_step_down_as_the_table_says(days, rung, streak, pace):
    # Our own choice, cautious against published detraining (McMaster 2013, seen second-hand).
    state = after(State(11, settled_streak=2, pace=2), *["missed"] * days)
    assert (state.rung, state.settled_streak, state.pace) == (rung, streak, pace)
    assert state.gap_days == min(days, 28)


def test_the_first_day_back_ends_the_gap():
    assert after(State(11), "missed", "missed", "settled").gap_days == 0


def test_the_first_week_counts_days_and_then_is_over():
    state = start_state(PLAN)
    assert [after(state, *["tender"] * days).first_week_day for days in range(9)] == [1, 2, 3, 4, 5, 6, 7, 0, 0]


def test_no_heavier_weight_comes_in_the_first_week():
    eager = plan_for(start_rung=6, heavier_days=3)
    assert after(start_state(eager), *["settled"] * 6, plan=eager).rung == 6
    assert after(start_state(eager), *["settled"] * 7, plan=eager).rung == 7


def test_sharp_holds_until_a_release_with_a_rung():
    held = after(State(8, ease=1, pace=2), "sharp")
    assert held == State(8, mode="held")
    assert after(held, *["settled"] * 30) == held
    assert released(PLAN, 4) == State(4)
    assert released(PLAN, 400).rung == PLAN.ladder.top


def test_a_new_routine_takes_over_at_no_more_work():
    lighter = plan_for(weights=(0.0, 0.5, 1.0))
    moved = carry_over(PLAN, lighter, State(14, ease=1, settled_streak=2, pace=2))
    assert moved == State(moved.rung, ease=1)
    assert lighter.ladder.rung(moved.rung).work_j <= PLAN.ladder.rung(14).work_j
    held = carry_over(PLAN, lighter, replace(State(14), mode="held"))
    assert held.mode == "held"


def test_the_table_names_each_rule_once_with_condition_effect_and_basis():
    ids = [rule.id for rule in RULES]
    assert len(set(ids)) == len(ids)
    assert all(rule.condition and rule.effect and rule.basis for rule in RULES)


def test_a_response_that_is_none_is_refused():
    with pytest.raises(ValueError, match="superb"):
        close_day(PLAN, State(1), "superb")

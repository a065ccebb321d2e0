"""Each rule of the first week by its own story."""

from tests.dosing.spread import plan_for
from tests.dosing.teller import DAY, PLAN, story
from webapp.dosing.plan import start_state
from webapp.dosing.state import State


@story
def the_first_week_begins_spread_and_gets_fuller_after_a_settled_day(by):
    state = start_state(PLAN)
    assert (state.first_week_day, state.first_week_stage) == (1, 1)
    assert [by.after(state, *DAY * days).first_week_stage for days in range(4)] == [1, 1, 1, 2]
    assert by.after(state, "tender", "tender", "tender").first_week_stage == 1
    assert by.after(state, "tender", "tender", "tender", "settled").first_week_stage == 2
    assert by.why(by.after(state, *DAY * 2), "settled") == ("first-week-fuller",)
    # Entered on the fifth day at the latest.
    assert by.after(state, *["unreported"] * 4, "settled").first_week_stage == 2
    assert by.after(state, *["unreported"] * 5, "settled").first_week_stage == 1


@story
def the_first_week_ends_by_the_calendar_with_one_session_a_day(by):
    state = start_state(PLAN)
    for week in (DAY * 7, ["missed"] * 7, ["tender"] * 3 + ["unreported"] * 4):
        over = by.after(state, *week)
        assert (over.first_week_day, over.first_week_stage) == (0, 4)
    assert by.why(by.after(state, *DAY * 6), "settled") == ("wait", "first-week-together")
    assert by.why(by.after(state, *["missed"] * 6), "missed") == ("first-week-together", "gap-two-down")


@story
def the_one_session_grows_to_the_whole_before_any_rung(by):
    over = by.after(start_state(PLAN), *DAY * 7)
    assert by.why(over, "settled") == ("first-week-grows",)
    whole = by.after(over, "settled")
    assert whole == State(3)
    lagging = by.after(start_state(PLAN), *["unreported"] * 7)
    assert by.after(lagging, *DAY * 2).first_week_stage == 4
    assert by.after(lagging, *DAY * 3).first_week_stage == 0


@story
def without_short_sessions_no_climbed_dose_comes_before_day_five(by):
    plain = plan_for(first_week_sessions=1)
    state = start_state(plain)
    assert by.after(state, *DAY * 3, plan=plain).rung == state.rung
    assert by.after(state, *DAY * 4, plan=plain).rung == state.rung + 1


@story
def no_heavier_weight_comes_in_the_first_week(by):
    eager = plan_for(start_rung=6, first_week_sessions=1, heavier_days=7)
    almost = State(6, settled_streak=6, first_week_day=6)
    assert by.after(almost, "settled", plan=eager).rung == 6
    assert by.after(almost._replace(first_week_day=7), "settled", plan=eager).rung == 7


@story
def an_eased_arm_waits_for_its_range_while_short_sessions_come_together(by):
    last = State(3, ease=1, settled_streak=2, first_week_day=7, first_week_stage=1)
    assert by.after(last, "settled") == State(3, ease=1, settled_streak=3, first_week_stage=4)
    assert by.after(last, "settled", "settled").ease == 0

"""Each rule of a day by its own story."""

from tests.dosing.spread import plan_for
from tests.dosing.teller import DAY, PLAN, story
from webapp.dosing.dose import hold_seconds
from webapp.dosing.release import Return, released
from webapp.dosing.state import State


@story
def three_settled_days_earn_one_rung(by):
    assert by.after(State(3), *DAY * 2).rung == 3
    assert by.after(State(3), *DAY * 3) == State(4, pace=1)
    assert by.why(State(3, settled_streak=2), "settled") == ("climb",)


@story
def a_heavier_weight_takes_seven_settled_days(by):
    assert by.after(State(6), *DAY * 6).rung == 6
    assert by.after(State(6), *DAY * 7).rung == 7
    assert by.why(State(6, settled_streak=6), "settled") == ("climb",)


@story
def after_two_clean_climbs_a_heavier_weight_takes_five_settled_days(by):
    assert by.after(State(6, pace=2), *DAY * 4).rung == 6
    assert by.after(State(6, pace=2), *DAY * 5).rung == 7
    assert by.why(State(6, pace=2, settled_streak=4), "settled") == ("pace",)
    assert by.why(State(6, pace=2, settled_streak=6), "settled") == ("climb",)
    assert by.why(State(3, pace=2, settled_streak=2), "settled") == ("climb",), "reps climb no sooner"


@story
def two_clean_climbs_earn_the_pace_and_any_setback_loses_it(by):
    assert by.after(State(3), *DAY * 6).pace == 2
    fast = State(3, pace=2)
    for setback in (["flared"], ["tender"] * 4, ["missed"] * 7):
        assert by.after(fast, *setback).pace == 0
    assert by.after(State(1, pace=2), *["missed"] * 7).pace == 0, "a week away, though there is no rung below"
    assert by.after(fast, "tender", "unreported", "missed", "aching", "partly").pace == 2
    assert by.after(State(3, ease=1, pace=1), *DAY * 3).pace == 1


@story
def range_comes_back_before_anything_else(by):
    back = by.after(State(4, ease=2), *DAY * 3)
    assert (back.ease, back.rung) == (1, 4)
    assert by.after(back, *DAY * 3) == State(4, is_unsettled=True)
    assert by.why(State(4, ease=1, settled_streak=2), "settled") == ("widen",)


@story
def stretches_are_short_while_eased_or_tender_and_until_a_settled_day_at_full_range(by):
    def held(state, *responses):
        return hold_seconds(PLAN, by.after(state, *responses))

    grown = State(5, settled_streak=2, pace=1)
    assert [held(grown), held(grown, "tender"), held(grown, "sore"), held(grown, "flared", "missed")] == [
        45,
        20,
        20,
        20,
    ]
    assert [held(grown, "tender", *["aching", "partly", "unreported", "missed"][:days]) for days in range(5)] == [
        20
    ] * 5
    assert [held(grown, "tender", "aching", *DAY * days) for days in range(4)] == [20, 40, 45, 35], (
        "the last day climbs"
    )
    assert [held(State(5, ease=1), *DAY * days) for days in range(6)] == [20, 20, 20, 20, 40, 45]
    assert held(State(5, ease=2), *DAY * 4) == 20
    assert held(State(5, tender_days=1), *["missed"] * 7) == 20, "a week away is no settled day"


@story
def the_day_on_which_short_sessions_get_fuller_keeps_stretches_short(by):
    sore = by.after(State(3, first_week_day=2, first_week_stage=1), "tender")
    fuller = by.after(sore, "settled")
    assert (fuller.first_week_stage, hold_seconds(PLAN, fuller)) == (2, 20)
    assert hold_seconds(PLAN, by.after(fuller, "settled")) == 40


@story
def a_flare_rests_a_day_and_comes_back_eased(by):
    flared = by.after(State(5, pace=2, settled_streak=2), "flared")
    assert flared == State(5, ease=1, rest_days=1, mode="resting")
    assert by.after(flared, "missed") == State(5, ease=1, gap_days=1, gap_rung=5)
    assert by.after(State(5, ease=2), "flared") == State(4, ease=2, rest_days=1, mode="resting")
    assert by.after(State(1, ease=2), "flared") == State(1, ease=2, rest_days=1, mode="resting")
    assert by.why(State(5), "flared") == ("rest-and-ease",)
    assert by.why(State(5, ease=2), "flared") == ("rest-and-step-down",)
    assert by.why(State(1, ease=2), "flared") == ("rest-at-the-bottom",)


@story
def rest_goes_on_while_it_is_worse_and_a_week_of_it_becomes_a_hold(by):
    resting = State(5, ease=1, rest_days=1, mode="resting")
    for worse in ("flared", "flared_idle", "sore", "tender_over"):
        assert by.after(resting, worse).rest_days == 2
        assert by.why(resting, worse)[0] == "still-resting"
        assert by.why(resting._replace(rest_days=2), worse)[0] == "rest-be-seen"
        assert by.after(resting._replace(rest_days=2), worse).rest_days == 3
    for over in ("settled", "partly", "unreported", "aching", "aching_untold", "tender", "missed"):
        assert by.after(resting, over).mode == "training"
        assert by.why(resting, over)[0] == "rest-over"
    # Our own choice: the seventh day of rest is a hold, with rung and range as they stood.
    assert by.after(resting, *["flared"] * 5).rest_days == 6
    assert by.after(resting, *["flared"] * 6) == State(5, ease=1, mode="held")
    assert by.why(by.after(resting, *["flared"] * 5), "flared") == ("rest-to-hold",)


@story
def nothing_is_counted_while_resting(by):
    resting = State(5, ease=1, rest_days=1, mode="resting")
    assert by.after(resting, "tender") == State(5, ease=1)
    assert by.after(resting, "settled") == State(5, ease=1)


@story
def tender_stays_and_eases_once_past_the_ordinary_three_days(by):
    # Soreness of one to three days is ordinary (common practice, no source; DOMS 24-72 h, Cheung 2003, seen second-hand).
    state = by.after(State(5), "tender", "tender_over", "tender")
    assert (state.rung, state.ease, state.tender_days) == (5, 0, 3)
    assert by.after(state, "tender") == State(5, ease=1)
    assert by.why(state, "tender") == ("past-the-cycle",)
    assert by.why(State(5), "tender") == ("stay",)
    assert by.after(State(5), *["tender"] * 8) == State(5, ease=2)


@story
def at_half_range_tender_days_run_to_seven_before_a_rung(by):
    half = State(5, ease=2)
    assert by.after(half, *["tender"] * 6) == State(5, ease=2, tender_days=6)
    assert by.after(half, *["tender"] * 7) == State(4, ease=2)
    assert by.why(State(5, ease=2, tender_days=2), "tender") == ("stay",)
    assert by.why(State(5, ease=2, tender_days=3), "tender") == ("tender-at-half",)
    assert by.why(State(5, ease=2, tender_days=6), "tender") == ("tender-step-down",)


@story
def at_the_floor_a_week_of_tender_days_rests(by):
    floor = State(1, ease=2)
    assert by.after(floor, *["tender"] * 6).mode == "training"
    assert by.after(floor, *["tender"] * 7) == State(1, ease=2, rest_days=1, mode="resting")
    assert by.why(State(1, ease=2, tender_days=6), "tender") == ("tender-rest",)


@story
def what_ends_a_run_of_tender_days(by):
    sore = State(5, tender_days=2)
    for keeps in ("partly", "unreported", "missed", "aching_untold"):
        assert by.after(sore, keeps).tender_days == 2
    for ends in ("settled", "aching"):
        assert by.after(sore, ends).tender_days == 0


@story
def an_aching_day_keeps_the_dose_and_starts_settled_days_again(by):
    good = State(5, settled_streak=2, pace=1)
    assert by.after(good, "aching") == by.after(good, "aching_untold") == State(5, pace=1)
    assert by.why(good, "aching") == by.why(good, "aching_untold") == ("ache",)


@story
def a_missing_number_or_a_part_neither_helps_nor_harms(by):
    state = State(5, settled_streak=2, pace=1)
    assert by.after(state, "unreported") == by.after(state, "partly") == state
    assert by.why(state, "unreported") == ("no-number",)
    assert by.why(state, "partly") == ("part-done",)


@story
def sharp_holds_with_rung_and_range_as_they_stood(by):
    held = by.after(State(8, ease=1, pace=2), "sharp")
    assert held == State(8, ease=1, mode="held")
    assert by.after(held, *DAY * 30, "missed", "flared") == held
    assert by.why(State(3), "sharp") == ("stop",)
    assert by.why(State(3, rest_days=2, mode="resting"), "sharp") == ("stop",)
    assert by.why(held, "settled") == ("held",)


@story
def a_release_owes_seven_settled_days(by):
    back = released(PLAN, State(8, mode="held"), Return(7, 1))
    assert (back.rung, back.ease, back.mode) == (7, 1, "training")
    assert by.after(back, *DAY * 6).ease == 1
    assert by.after(back, *DAY * 7).ease == 0
    assert by.after(back, *DAY * 3, "tender", *DAY * 3).ease == 1
    assert by.after(back, *DAY * 3, "tender", *DAY * 4).ease == 0
    assert by.why(back, "settled") == ("owed",)
    # Three days away, a flare: what is owed is owed anew, or stays owed.
    assert by.after(back, *DAY * 3, *["missed"] * 3, *DAY * 6).ease == 1
    assert by.after(back, "flared", "missed").settled_streak == back.settled_streak


@story
def with_a_usual_of_four_no_rung_climbs_by_itself(by):
    seen = plan_for(usual=4)
    state = State(2)
    assert by.after(state, *DAY * 30, plan=seen).rung == 2
    assert by.why(State(2, settled_streak=9), "settled", plan=seen) == ("by-hand",)
    assert by.after(State(2, ease=1), *DAY * 3, plan=seen).ease == 0
    assert by.why(State(seen.ladder.top), "settled", plan=seen) == ("top",)


@story
def a_settled_day_that_earns_nothing_yet_counts(by):
    assert by.why(State(3), "settled") == ("wait",)
    assert by.why(State(PLAN.ladder.top), "settled") == ("top",)

"""The return ladder: its rules by their stories, and what holds in every state."""

from itertools import pairwise, product

import pytest

from webapp.dosing.returning import rules
from webapp.dosing.returning.closing import MOST_AWAY, SportDay, close_go, close_sport_day, outing_of
from webapp.dosing.returning.go import (
    CALM_MORNINGS,
    FLARE_DAYS,
    MOST_A_WEEK,
    REST_DAYS,
    STEP_DAYS,
    Go,
    ReturnLadder,
    ReturnState,
    ReturnStep,
    is_free,
    may_go,
    step_today,
)
from webapp.dosing.returning.table import LETTERS, go_table

LADDER = ReturnLadder("invented", tuple(ReturnStep(2 if step == 1 else 3, 5 * step) for step in range(1, 9)))
ROWS = go_table().rows
FRESH = ReturnState()


def walked(days, state=FRESH, *, is_clear=True):
    """Close days in a row, each (minutes, feel); return the last closing."""
    closed = None
    for minutes, feel in days:
        closed = close_sport_day(LADDER, state, SportDay(minutes, feel), is_clear=is_clear)
        state = closed.state
    return closed


def at(step, **counts):
    return ReturnState(step=step, go=Go(**counts))


CALM, OUT = (None, "calm"), (5, "calm")
STEP_ONE = [OUT, CALM, OUT, CALM, CALM, CALM, CALM]


def test_a_step_is_passed_when_all_of_it_was_settled_and_a_week_is_over():
    early, over = walked(STEP_ONE[:-1]).state, walked(STEP_ONE).state
    assert step_today(LADDER, early, is_clear=True) == 1
    assert (step_today(LADDER, over, is_clear=True), over.step) == (2, 1)
    after = walked([(10, "calm")], over)
    assert (after.state.step, after.outing, after.state.go) == (2, "up", Go(settled=1, days=1))


def test_a_week_with_too_few_settled_outings_passes_nothing():
    assert step_today(LADDER, walked([OUT, *[CALM] * 6]).state, is_clear=True) == 1


def test_no_step_goes_up_within_72_hours_of_a_larger_dose():
    # RULES.md, Sport: never within 72 h of a climb, a widening or a heavier weight.
    for go, step in product(ROWS, range(1, 9)):
        state = ReturnState(step, go)
        assert step_today(LADDER, state, is_clear=False) == step
        assert outing_of(LADDER, state, SportDay(1, "calm"), is_clear=False) != "up"


def test_sport_is_never_on_two_days_running_and_never_on_more_days_of_seven_than_the_step_allows():
    for lately, days in product(range(64), range(1, MOST_A_WEEK + 1)):
        with_today = [1, *(lately >> back & 1 for back in range(6))]
        follows_its_rule = with_today[1] == 0 and sum(with_today) <= days
        assert is_free(days, lately) is follows_its_rule
    ok = ReturnState(step=3, lately=0b101010)
    assert not may_go(LADDER, ok, is_clear=True), "three days of seven"
    assert may_go(LADDER, ok._replace(lately=0b001010), is_clear=True)


# The table of soreness rules in clinic/return.md; all its numbers are our own choice.
@pytest.mark.parametrize(
    ("feel", "step", "go", "rule"),
    [
        ("calm", 5, Go(settled=2, days=3), "return-settled"),
        ("aching", 5, Go(fails=1), "return-ache"),
        ("sore", 5, Go("waiting", fails=1), "return-tender"),
        ("aching_untold", 5, Go("waiting", fails=1), "return-ache-untold"),
        ("untold", 5, Go("waiting", settled=1, days=3), "return-untold"),
        ("flared", 3, Go("resting", fails=1), "return-flare"),
        ("sharp", 1, Go("resting", fails=1), "return-sharp"),
    ],
)
def test_how_sport_felt_decides_what_follows(feel, step, go, rule):
    closed = walked([(25, feel)], at(5, settled=1, days=2))
    assert (closed.state.step, closed.state.go, closed.reasons) == (step, go, (rule,))


@pytest.mark.parametrize(("feel", "rule"), [("flared", "return-flare"), ("sharp", "return-sharp")])
def test_a_flare_or_sharp_pain_without_sport_moves_the_ladder_too(feel, rule):
    assert walked([(None, feel)], at(6)).reasons == (rule,)


def test_after_a_flare_sport_comes_back_with_three_calm_mornings_running_and_not_before_the_fifth_day():
    flare = walked([(30, "flared")], at(6)).state
    assert [may_go(LADDER, walked([CALM] * days, flare).state, is_clear=True) for days in range(1, 7)] == [
        False, False, False, False, True, True,
    ]  # fmt: skip
    broken = [CALM, CALM, (None, "sore"), CALM, CALM]
    assert walked(broken, flare).state.go == Go("resting", fails=1, calm=2, rest=5)
    assert walked([*broken, CALM], flare).reasons == ("return-rested",)
    assert walked([*broken, CALM], flare).state.step == 4


def test_no_way_out_of_the_rest_is_shorter():
    for go, letter in product(ROWS, LETTERS):
        if go.mode == "resting":
            closed = close_go(go, letter[0], letter[1], is_again=letter[2])
            is_rested = go.calm >= CALM_MORNINGS - 1 and go.rest >= REST_DAYS - 1
            assert closed.go.mode == "resting" or (is_rested and closed.rule == "return-rested")


def test_sport_during_the_rest_begins_the_rest_anew():
    assert walked([CALM] * 3 + [OUT], at(4, mode="resting")).state.go == Go("resting")


@pytest.mark.parametrize(("days", "stops"), [(FLARE_DAYS, True), (FLARE_DAYS + 1, False)])
def test_a_second_flare_within_28_days_stops_the_ladder(days, stops):
    flare = walked([(30, "flared")], at(6)).state
    later = walked([CALM] * (days - 1) + [(None, "flared")], flare)
    assert (later.state.go.mode == "stopped") is stops


@pytest.mark.parametrize("feel", ["aching", "aching_untold", "sore", "flared", "sharp"])
def test_the_third_go_that_fails_stops_the_ladder(feel):
    assert walked([(*OUT[:1], feel)], at(3, fails=2)).state.go == Go("stopped")
    assert walked([(20, "calm")], at(3, settled=3, days=7, fails=2)).state.go.fails == 0, (
        "a step that is passed ends the count"
    )


def test_a_ladder_that_is_stopped_stays_so_whatever_comes():
    for mode, (outing, feel, again) in product(("stopped", "away"), LETTERS):
        assert close_go(Go(mode), outing, feel, is_again=again).go == Go(mode)


@pytest.mark.parametrize(
    ("days", "step", "mode"), [(13, 7, "open"), (14, 6, "open"), (28, 3, "open"), (MOST_AWAY, 3, "away")]
)
def test_days_without_sport_lead_back_and_at_last_to_the_gate(days, step, mode):
    after = walked([CALM] * days, at(7)).state
    assert (after.step, after.go.mode) == (step, mode)


@pytest.mark.parametrize(
    ("minutes", "lately", "mode"), [(16, 0, "open"), (15, 1, "open"), (15, 0b101010, "open"), (15, 0, "waiting")]
)
def test_more_than_the_step_allows_or_a_day_that_did_not_allow_it_does_not_count(minutes, lately, mode):
    state = ReturnState(3, Go(mode, settled=1, days=2), lately)
    closed = walked([(minutes, "calm")], state)
    assert (closed.outing, closed.state.go.settled) == ("uncounted", 1)
    assert walked([(minutes, "flared")], state).state.step == 1, "how it felt counts all the same"


@pytest.mark.parametrize(
    ("day", "outing", "rule"),
    [
        (SportDay(15, "calm"), "counted", "return-settled"),
        (SportDay(12, "calm"), "counted", "return-settled"),
        (SportDay(11, "calm"), "fewer", "return-fewer"),
        (SportDay(15, "calm", amount="fewer"), "fewer", "return-fewer"),
        (SportDay(15, "calm", amount="more"), "uncounted", "return-more"),
        (SportDay(15, "calm", strokes=61), "uncounted", "return-more"),
        (SportDay(15, "calm", strokes=60), "counted", "return-settled"),
        (SportDay(11, "aching"), "fewer", "return-ache"),
        (SportDay(15, "flared", amount="fewer"), "fewer", "return-flare"),
    ],
)
def test_an_outing_counts_by_what_was_really_done(day, outing, rule):
    # Four fifths are enough, as in a session; what was not done never earns more.
    ladder = ReturnLadder("counted", tuple(ReturnStep(3, 5 * step, 20 * step) for step in range(1, 9)))
    closed = close_sport_day(ladder, at(3), day, is_clear=True)
    assert (closed.outing, closed.reasons) == (outing, (rule,))


def test_outings_that_are_all_shorter_than_asked_climb_nothing_and_less_on_a_higher_step_does_not_reach_it():
    assert step_today(LADDER, walked([(4, "calm"), CALM, (3, "calm"), *[CALM] * 5]).state, is_clear=True) == 1
    due = walked(STEP_ONE).state
    assert walked([(5, "calm")], due).state.step == 1


def test_a_tender_morning_without_sport_makes_the_next_outing_wait_for_a_calm_one():
    waiting = walked([(None, "sore"), (None, "untold")], at(3)).state
    assert not may_go(LADDER, waiting, is_clear=True)
    assert may_go(LADDER, walked([CALM], waiting).state, is_clear=True)


def test_each_row_of_the_table_is_named_once_decides_something_and_says_what_it_does():
    assert len({rule.id for rule in rules.RETURN_RULES}) == len(rules.RETURN_RULES)
    assert {row for column in go_table().why for row in column} == set(range(len(rules.RETURN_RULES)))
    assert all(rule.condition and rule.effect and rule.basis for rule in rules.RETURN_RULES)


def test_a_go_is_never_longer_than_its_week_nor_fails_more_often_than_allowed():
    assert all(go.days <= STEP_DAYS and go.settled <= MOST_A_WEEK and go.fails < 3 for go in ROWS)


def test_the_ladder_climbs_to_its_top_by_calm_weeks_and_never_two_steps_at_once():
    state, steps = FRESH, []
    for _ in range(80):
        minutes = 5 * step_today(LADDER, state, is_clear=True) if may_go(LADDER, state, is_clear=True) else None
        state = walked([(minutes, "calm")], state).state
        steps.append(state.step)
    assert steps[-1] == len(LADDER.steps)
    assert all(later - earlier in (0, 1) for earlier, later in pairwise(steps))
    assert steps.count(2) >= STEP_DAYS

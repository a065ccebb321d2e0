"""What a practitioner does to a course: releases, new routines, rungs given by hand."""

import pytest

from tests.dosing.spread import plan_for
from tests.dosing.teller import PLAN
from webapp.dosing.dose import hold_seconds
from webapp.dosing.hand import by_hand
from webapp.dosing.plan import carry_over
from webapp.dosing.release import Return, offer, released, returns, returns_after
from webapp.dosing.state import State


def test_what_a_release_offers_is_a_rung_lower_at_three_quarter_range():
    assert offer(PLAN, State(9, mode="held")) == Return(8, 1)
    assert offer(PLAN, State(9, ease=1, mode="held")) == Return(8, 1)
    assert offer(PLAN, State(9, ease=2, mode="held")) == Return(1, 2)
    assert offer(PLAN, State(1, mode="held")) == Return(1, 2)
    # From the first rung of a weight: the lighter one below has more reps, so it goes on down to no more of them.
    first = next(rung for rung in PLAN.ladder.rungs if rung.heavier)
    lower = PLAN.ladder.rung(offer(PLAN, State(first.number, mode="held")).rung)
    assert lower.count.reps <= first.count.reps < PLAN.ladder.rung(first.number - 1).count.reps


def test_what_a_practitioner_may_choose_is_the_offer_or_less():
    choices = returns(PLAN, State(4, mode="held"))
    assert choices[0] == offer(PLAN, State(4, mode="held")) == Return(3, 1)
    assert set(choices) == {Return(rung, ease) for rung in (1, 2, 3) for ease in (1, 2)}
    assert released(PLAN, State(4, mode="held"), Return(4, 0)) == released(PLAN, State(4, mode="held"), Return(3, 1))
    assert released(PLAN, State(4, mode="held"), Return(2, 2)).rung == 2


def test_a_choice_that_is_not_allowed_never_becomes_more_than_was_chosen():
    for rung in range(1, PLAN.ladder.top + 1):
        held = State(rung, mode="held")
        for wish in range(1, PLAN.ladder.top + 3):
            for ease in range(3):
                back = released(PLAN, held, Return(wish, ease))
                assert (back.rung, back.ease) in returns(PLAN, held)
                assert back.rung <= wish
                assert back.ease >= ease


def test_days_held_bound_a_release_that_knows_them():
    held = State(11, mode="held")
    assert released(PLAN, held, Return(11, 0), 6).rung == 10
    assert released(PLAN, held, Return(11, 0), 40).rung == 1


def test_a_rung_given_to_a_held_arm_adds_neither_weight_nor_reps():
    for stood in range(1, PLAN.ladder.top + 1):
        for wish in range(1, PLAN.ladder.top + 1):
            now = PLAN.ladder.rung(by_hand(PLAN, State(stood, ease=1, mode="held"), wish).rung)
            was = PLAN.ladder.rung(stood)
            assert now.number <= wish
            assert now.number == 1 or (now.load_kg <= was.load_kg and now.count.reps <= was.count.reps)


def test_days_held_count_for_the_offer_as_days_away_do():
    # Half way down from the eleventh rung is the sixth; it has 20 reps, more than the offer's 18, so it is the fifth.
    held = State(11, mode="held")
    assert [returns_after(PLAN, held, days)[0].rung for days in (0, 6, 7, 13, 14, 27, 28, 400)] == [
        10,
        10,
        9,
        9,
        5,
        5,
        1,
        1,
    ]


def test_a_new_routine_takes_over_at_no_more_work():
    lighter = plan_for(weights=(0.0, 0.5, 1.0))
    moved = carry_over(PLAN, lighter, State(14, ease=1, settled_streak=2, pace=2))
    assert moved == State(moved.rung, ease=1)
    assert lighter.ladder.rung(moved.rung).work_j <= PLAN.ladder.rung(14).work_j
    assert carry_over(PLAN, lighter, State(14, settled_streak=-2)).settled_streak == lighter.streak_after_release


@pytest.mark.parametrize("state", [State(5, ease=1), State(5, tender_days=2), State(5, is_unsettled=True)])
def test_neither_a_hand_nor_a_new_routine_lengthens_a_stretch(state):
    for now in (by_hand(PLAN, state, 6, 0), by_hand(PLAN, state, 6), carry_over(PLAN, PLAN, state)):
        assert hold_seconds(PLAN, now) == hold_seconds(PLAN, state) == 20
    assert not by_hand(PLAN, state._replace(mode="held"), 5, 0).is_unsettled, "a release comes back eased"


def test_a_new_routine_never_raises_a_held_arm_in_any_lever():
    other = plan_for(weights=(0.0, 0.5, 2.0), goal_reps=30, accepted_jumps_kg=(2.0,))
    for rung in range(1, PLAN.ladder.top + 1):
        moved = carry_over(PLAN, other, State(rung, ease=1, mode="held"))
        was, now = PLAN.ladder.rung(rung), other.ladder.rung(moved.rung)
        assert (moved.mode, moved.ease) == ("held", 1)
        assert now.number == 1 or (now.load_kg <= was.load_kg and now.count.reps <= was.count.reps), rung
        assert by_hand(other, moved, other.ladder.top).rung == moved.rung, "nor does a rung given by hand"


def test_a_rung_given_by_hand_begins_all_counts_again():
    now = by_hand(PLAN, State(3, ease=1, settled_streak=2, tender_days=0, pace=2), 6, 0)
    assert now == State(6, is_unsettled=True)
    assert by_hand(PLAN, State(3, ease=1), 900).rung == PLAN.ladder.top
    assert by_hand(PLAN, State(3, ease=1), 2).ease == 1

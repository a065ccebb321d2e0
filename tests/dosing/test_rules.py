"""The rules by their stories, and the table that holds them."""

import pytest

from tests.dosing import stories_of_days, stories_of_gaps, stories_of_the_first_week  # noqa: F401 - each adds its stories
from tests.dosing.spread import plan_for
from tests.dosing.teller import PLAN, STORIES, Teller
from webapp.dosing.closing import close_day
from webapp.dosing.plan import faults_of_plan, start_state
from webapp.dosing.rules import RULES
from webapp.dosing.state import State


def test_the_start_follows_the_usual_pain():
    # Our own choice: usual pain 0-2 two steps up, 3-5 at the bottom.
    assert start_state(plan_for(usual=2)).rung == 3
    assert start_state(plan_for(usual=3)).rung == 1
    assert start_state(plan_for(start_rung=5)).rung == 5


def test_a_start_rung_that_the_ladder_does_not_have_is_a_fault():
    (fault,) = faults_of_plan(plan_for(weights=(0.0,), start_rung=50))
    assert (fault.code, fault.field, fault.value, fault.rule) == (
        "out_of_range",
        "start_rungs.right",
        50,
        (1, 6, "rungs"),
    )
    assert not list(faults_of_plan(plan_for(weights=(0.0,), start_rung=6)))


@pytest.mark.parametrize("tell", STORIES, ids=lambda tell: tell.__name__)
def test_the_rules_tell_each_story(tell):
    tell(Teller())


def test_the_table_names_each_rule_once_with_condition_effect_and_basis():
    ids = [rule.id for rule in RULES]
    assert len(set(ids)) == len(ids)
    assert all(rule.condition and rule.effect and rule.basis for rule in RULES)


def test_a_response_that_is_none_is_refused():
    with pytest.raises(ValueError, match="superb"):
        close_day(PLAN, State(1), "superb")

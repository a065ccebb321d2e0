"""The nine statements of the rule book, over every reachable state and every response of many plans."""

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.amount import drawn
from tests.dosing.spread import EACH_PLAN, fixed_plans, plan_by_number, plans
from tests.dosing.statements import CHECKS
from tests.dosing.whole import Whole
from webapp.dosing.responses import RESPONSES

pytestmark = pytest.mark.walk

GENERATED = drawn(3, 15)
MORE_PLANS = 150


@pytest.mark.parametrize("number", EACH_PLAN)
def test_what_is_always_true_holds_in_every_state_of_each_chosen_plan(number, counted):
    whole = Whole(fixed_plans()[number])
    for check in CHECKS:
        check(whole)
    counted(f"statements on plan {number:2}: {whole.count} states, {whole.count * len(RESPONSES)} transitions")


# A plan is not worth shrinking: each example is a walk of tens of thousands of states.
@settings(
    max_examples=GENERATED,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
)
@given(plans())
def walk_any_plan(plan):
    whole = Whole(plan)
    for check in CHECKS:
        check(whole)
    walked.append(whole.count)


walked: list[int] = []


@pytest.mark.drawn
def test_what_is_always_true_holds_in_every_state_of_any_plan(counted):
    walk_any_plan()
    assert len(walked) == GENERATED
    counted(
        f"statements on {GENERATED} generated plans: {sum(walked)} states, {sum(walked) * len(RESPONSES)} transitions"
    )


@pytest.mark.long
@pytest.mark.parametrize("tens", range(MORE_PLANS // 10))
def test_what_is_always_true_holds_in_every_state_of_many_more_plans(tens, counted):
    states = 0
    for number in range(10 * tens, 10 * tens + 10):
        whole = Whole(plan_by_number(number))
        states += whole.count
        for check in CHECKS:
            check(whole)
    counted(
        f"statements on plans {10 * tens:3} and the nine after it: {states} states, {states * len(RESPONSES)} transitions"
    )

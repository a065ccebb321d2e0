"""The counts on the page can fail: each statement finds the cases against it once a rule is wrong."""

from dataclasses import replace

import pytest

from webapp.dosing.plan import make_plan
from webapp.dosing.rules import RULES, table_of
from webapp.dosing.settings import Body, Client, Routine
from webapp.rulebook.checks import CHECKS, Walked, count
from webapp.rulebook.seal import seal_of

PLAN = make_plan(Routine("", "wrist"), Client(Body(70, 1.75), weights_kg=(0.0,), usual=2))


def wrong(rule_id, then):
    """The rules with another effect of one of them."""
    assert any(rule.id == rule_id for rule in RULES)
    return table_of(tuple(replace(rule, then=then) if rule.id == rule_id else rule for rule in RULES))


def up(state, plan, rungs=1):
    return state._replace(rung=min(plan.ladder.top, state.rung + rungs))


@pytest.mark.parametrize(
    ("number", "rules"),
    [
        ("1", wrong("stay", up)),
        ("2", wrong("climb", lambda state, plan: up(state, plan, 2)._replace(settled_streak=0))),
        ("2", wrong("ache", lambda state, _: state._replace(is_unsettled=False))),
        ("3", wrong("held", lambda state, _: state._replace(mode="training"))),
        ("3", wrong("rest-and-ease", lambda state, _: state)),
        ("3", wrong("climb", lambda state, _: state)),
        ("4", wrong("stay", lambda state, plan: up(state, plan, 3))),
        ("6", wrong("stay", up)),
        ("7", wrong("part-done", up)),
        ("9", wrong("rest-over", lambda state, plan: up(state, plan)._replace(rest_days=0, mode="training"))),
    ],
)
def test_a_wrong_rule_is_counted_against_its_statement(number, rules):
    right, mutant = count(CHECKS[number](Walked(PLAN))), count(CHECKS[number](Walked(PLAN, rules)))
    assert right.checked > 20
    assert right.against == 0
    assert mutant.against > 0


def test_the_seal_changes_with_what_a_rule_does_even_where_its_words_stay():
    right, mutant = Walked(PLAN), Walked(PLAN, wrong("stay", up))
    assert seal_of((), right.table, ()) == seal_of((), Walked(PLAN).table, ())
    assert seal_of((), right.table, ()) != seal_of((), mutant.table, ())

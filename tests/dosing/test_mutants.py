"""The checks bite: with any rule dropped, or its number shifted by one, some check fails.

A mutant is a changed table, handed to the same walks and stories that hold of the real one.
"""

from dataclasses import replace

import pytest

from tests.dosing.spread import fixed_plans
from tests.dosing.statements import CHECKS
from tests.dosing.test_responses import WORKED, class_and_row
from tests.dosing.test_rules import STORIES, Teller
from tests.dosing.whole import Whole
from webapp.dosing.responses import CLASSES
from webapp.dosing.rules import RULES, table_of

pytestmark = pytest.mark.walk

SMALL = fixed_plans()[5]


def mutants_of(table):
    for number, row in enumerate(table):
        yield f"{row.id} dropped", (*table[:number], *table[number + 1 :])
        for shift in (-1, 1) if row.limit else ():
            shifted = replace(row, limit=row.limit + shift)
            yield f"{row.id} {shift:+d}", (*table[:number], shifted, *table[number + 1 :])


RULE_MUTANTS = dict(mutants_of(RULES))
CLASS_MUTANTS = dict(mutants_of(CLASSES))


def faults_under(rules):
    """Yield the checks that fail under a table of rules."""
    table = table_of(rules)
    by = Teller(table)
    for tell in STORIES:
        try:
            tell(by)
        except (AssertionError, LookupError):
            yield tell.__name__
    yield from _walked(table)


def _walked(table):
    try:
        whole = Whole(SMALL, table)
    except (AssertionError, LookupError):
        yield "walk"
        return
    for check in CHECKS:
        try:
            check(whole)
        except (AssertionError, LookupError):
            yield check.__name__


def test_no_check_fails_under_the_real_rules():
    assert list(faults_under(RULES)) == []


@pytest.mark.parametrize("name", RULE_MUTANTS)
def test_a_changed_rule_is_caught(name):
    assert next(faults_under(RULE_MUTANTS[name]), None), f"no check noticed: {name}"


@pytest.mark.parametrize("name", CLASS_MUTANTS)
def test_a_changed_class_is_caught(name):
    def is_wrong(row):
        *ratings, response, deciding = row
        try:
            return class_and_row(*ratings, CLASS_MUTANTS[name]) != (response, deciding)
        except LookupError:
            return True

    assert any(map(is_wrong, WORKED)), f"no worked day noticed: {name}"

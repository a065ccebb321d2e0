"""The almanac against the rules it is compiled from, and its merging against a slow way that is plainly right."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.dosing.spread import fixed_plans
from webapp.dosing.almanac import walk
from webapp.dosing.dose import dose
from webapp.dosing.partition import classes_of
from webapp.dosing.plan import released
from webapp.dosing.responses import RESPONSES
from webapp.dosing.rules import close_day
from webapp.dosing.state import State

ODD = (State(1, gap_days=5, mode="resting"), State(1, gap_days=9, mode="held"), State(1, ease=2, gap_days=28, pace=2))
"""Such as a routine that took over in the middle of a gap can leave behind."""


@pytest.mark.parametrize("number", range(len(fixed_plans())))
def test_looking_up_a_day_of_any_state_is_closing_it(number):
    plan = fixed_plans()[number]
    releases = (released(plan, rung) for rung in range(1, plan.ladder.top + 1))
    almanac = walk(plan, (*releases, *ODD))
    assert set(ODD) <= set(almanac.states)
    for place, state in enumerate(almanac.states):
        assert almanac.doses[almanac.dose_of[place]] == dose(plan, state), state
        for column, response in enumerate(RESPONSES):
            looked_up = almanac.states[almanac.next[place][column]], almanac.reasons[place][column]
            assert looked_up == close_day(plan, state, response), (state, response)


@st.composite
def tables(draw):
    """Labels, and two columns of rows that each row leads to."""
    size = draw(st.integers(1, 12))
    column = st.lists(st.integers(0, size - 1), min_size=size, max_size=size)
    labels = draw(st.lists(st.sampled_from("ab"), min_size=size, max_size=size))
    return labels, [draw(column), draw(column)]


def told_apart(labels, columns):
    """Give the pairs of rows that some run of look-ups tells apart: marked pair by pair until no mark is added."""
    pairs = set(itertools.product(range(len(labels)), repeat=2))
    marked = {(one, other) for one, other in pairs if labels[one] != labels[other]}
    while more := {
        (one, other)
        for one, other in pairs - marked
        if any((column[one], column[other]) in marked for column in columns)
    }:
        marked |= more
    return marked


@given(tables())
def test_rows_share_a_class_just_where_no_run_of_look_ups_tells_them_apart(table):
    # The marking of pairs is the textbook way to the smallest automaton (value from memory: Moore, 1956).
    labels, columns = table
    apart = told_apart(labels, columns)
    for far in ([], columns[:1], columns):
        classes = classes_of(labels, columns, far)
        pairs = itertools.product(range(len(labels)), repeat=2)
        assert {(one, other) for one, other in pairs if classes[one] != classes[other]} == apart
        assert list(dict.fromkeys(classes)) == list(range(len(set(classes)))), "numbered in the order of the rows"

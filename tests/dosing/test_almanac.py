"""The almanac against the rules it is compiled from, and its merging against a slow way that is plainly right."""

import gzip
import itertools
import json
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.dosing.spread import EACH_PLAN, fixed_plans
from tests.dosing.whole import Whole
from webapp.dosing.almanac import build, merged, walk
from webapp.dosing.closing import close_day
from webapp.dosing.dose import dose
from webapp.dosing.partition import classes_of
from webapp.dosing.responses import RESPONSES
from webapp.dosing.state import State

ODD = (
    State(1, gap_days=5, gap_rung=1, rest_days=2, mode="resting"),
    State(1, ease=1, mode="held"),
    State(1, ease=2, gap_days=28, pace=2),
)
"""Such as a routine that took over in the middle of a gap can leave behind."""
# Small plans: every state of them is closed by the rules as well, one by one.
CLOSED_ONE_BY_ONE = (3, 5, 11, 12)
ROOM_KB = 12
"""What the table may take of a phone's way, gzipped."""


@pytest.mark.walk
@pytest.mark.parametrize("number", CLOSED_ONE_BY_ONE)
def test_looking_up_a_day_of_any_state_is_closing_it(number, counted):
    plan = fixed_plans()[number]
    almanac = walk(plan, ODD)
    waiting = list(dict.fromkeys((*almanac.states, *ODD)))
    reached, looked_up = set(waiting), 0
    for state in waiting:  # grows as it is gone through
        position = almanac.position(state)
        assert almanac.state_at(position) == state
        assert almanac.dose_at(position.row) == dose(plan, state), state
        for response in RESPONSES:
            closing, (after, reasons) = close_day(plan, state, response), almanac.close(position, response)
            assert (almanac.state_at(after), reasons) == closing, (state, response)
            looked_up += 1
            if closing.state not in reached:
                reached.add(closing.state)
                waiting.append(closing.state)
    counted(f"almanac of plan {number}: {looked_up} days looked up as closed")


@pytest.mark.walk
@pytest.mark.parametrize("number", EACH_PLAN)
def test_merging_equal_rows_changes_no_dose_and_no_reason_of_any_state(number):
    whole = walk(fixed_plans()[number], ODD)
    small = merged(whole)
    assert set(small.rows) == set(whole.states)
    for row, state in enumerate(whole.states):
        kept = small.rows[state]
        assert small.dose_at(kept) == whole.dose_at(row), state
        assert small.reasons[kept] == whole.reasons[row], state
        assert small.next[kept] == tuple(small.rows[whole.states[after]] for after in whole.next[row]), state
        for name, column in whole.gap.columns.items():
            assert small.gap.columns[name][kept] == small.rows[whole.states[column[row]]], (state, name)
        for seen in ("rung", "ease", "settled_streak", "rest_days", "mode"):
            assert getattr(small.states[kept], seen) == getattr(state, seen)
    assert merged(small) == small, "nothing more can be merged"


@pytest.mark.walk
def test_the_almanac_of_six_weights_is_of_a_size_to_carry(counted):
    almanac = build(fixed_plans()[0])
    columns = [*zip(*almanac.next, strict=True), *almanac.gap.columns.values()]
    steps = [[here - before for before, here in pairwise((0, *column))] for column in columns]
    size = len(gzip.compress(json.dumps([steps, almanac.dose_of]).encode()))
    states = f"{Whole(fixed_plans()[0]).count} states, {len(almanac.rows)} without their gap"
    counted(f"almanac of six weights: {states}, in {len(almanac.states)} rows, {size} bytes gzipped")
    assert len(almanac.states) < len(almanac.rows)
    assert size < ROOM_KB * 1000


@st.composite
def tables(draw):
    """Labels, and two columns of rows that each row leads to."""
    size = draw(st.integers(1, 12))
    column = st.lists(st.integers(0, size - 1), min_size=size, max_size=size)
    labels = draw(st.lists(st.sampled_from("ab"), min_size=size, max_size=size))
    return labels, [draw(column), draw(column)]


def told_apart(labels, columns):
    """Return the pairs of rows that some run of look-ups tells apart: marked pair by pair until no mark is added."""
    pairs = set(itertools.product(range(len(labels)), repeat=2))
    marked = {(row, other) for row, other in pairs if labels[row] != labels[other]}
    while more := {
        (row, other)
        for row, other in pairs - marked
        if any((column[row], column[other]) in marked for column in columns)
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
        assert {(row, other) for row, other in pairs if classes[row] != classes[other]} == apart
        assert list(dict.fromkeys(classes)) == list(range(len(set(classes)))), "numbered in the order of the rows"

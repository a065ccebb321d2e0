"""The anchors of a phone: three mornings, and a state for each possible response to the day before."""

from datetime import timedelta

from tests.builders import days_of
from tests.cast import FIRST_DAY
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.sync.anchors import anchors_of


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def test_an_anchor_carries_the_reports_of_the_three_mornings_before_it(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 0), (1, 2), (1, None), (1, 3), (1, 1)]))
    assert anchors_of(db, ansgar.id, _day(5), 1)["right"].mornings == (2, None, 3)
    assert anchors_of(db, ansgar.id, FIRST_DAY, 1)["right"].mornings == (None, None, None)


def test_an_anchor_counts_a_gap_for_the_ways_in_which_nothing_was_done(db, ansgar, send, received):
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 2))
    anchor = anchors_of(db, ansgar.id, _day(5), 1)["right"]
    gaps = {response: state.gap_days for response, state in zip(RESPONSES, anchor.states, strict=True)}
    assert {response for response, days in gaps.items() if days == 3} == set(IDLE)
    assert {days for response, days in gaps.items() if response not in IDLE} == {0}

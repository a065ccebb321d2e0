"""The anchors of a phone: three mornings, and a state for each possible response to the day before."""

from datetime import timedelta

from tests.builders import days_of
from tests.cast import FIRST_DAY
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.sync.folding.anchors import anchor_day, anchors_of
from webapp.sync.folding.checkpoint import Resumed
from webapp.sync.folding.fold import Course
from webapp.sync.log.diary import Diary


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


def test_anchors_lie_three_days_back_but_never_before_the_routine_version_came():
    resumed = Resumed(Course(Diary(receipts=((FIRST_DAY, 1), (_day(8), 2))), {}), FIRST_DAY)
    days = [
        anchor_day(resumed, _day(number), version)
        for number, version in ((0, 1), (2, 1), (7, 1), (8, 2), (10, 2), (20, 2))
    ]
    assert days == [_day(number) for number in (0, 0, 4, 8, 8, 17)]
    assert anchor_day(resumed, _day(20), 3) == _day(20), "a version that is still to come counts from the phone's day"

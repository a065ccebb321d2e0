"""An ease that the practitioner set comes to the phone: it moves only its arm, never wider, and the rules widen it again."""

from datetime import timedelta

import pytest

from tests.builders import days_of, event, session
from tests.cast import BELL_FOUNDER, FIRST_DAY, NOW
from webapp.dosing.almanac import walk
from webapp.dosing.dose import dose
from webapp.library.routine import starter
from webapp.records import routines
from webapp.sync.bundle.plans import plan_of
from webapp.sync.folding.anchors import anchors_of
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.switch import switched

CALM = [(1, 1)] * 4


def _day(number):
    return FIRST_DAY + timedelta(days=number)


@pytest.fixture
def pushed(db, ansgar, hedda):
    """A function that pushes a version which eases the founder's right arm."""

    def push(ease=1, **settings):
        settings = {**BELL_FOUNDER.settings, "eases": {"right": ease}, **settings}
        routines.push(db, ansgar.id, starter(BELL_FOUNDER.area), settings, "", hedda.id, NOW)

    return push


def _receive(on, version=2):
    return event("routine_received", on, {"version": version, "bundle": ""}, seq=900 + version)


def _right(db, client, on):
    return accounts_of(db, client.id, on)["right"]


def test_an_ease_by_hand_counts_from_the_day_the_version_comes_and_keeps_the_rung(db, ansgar, send, received, pushed):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, CALM), _receive(_day(4)))
    before, after = _right(db, ansgar, _day(3)).state, _right(db, ansgar, _day(4))
    assert (after.state.ease, after.state.rung, after.state.settled_streak) == (1, before.rung, 0)
    assert after.reasons == ("own-ease",)
    assert dose(after.plan, after.state).work_j < dose(after.plan, before).work_j
    anchor = anchors_of(db, ansgar.id, _day(4), 2)["right"]
    assert {state.ease for state in anchor.states if state.mode == "training"} <= {1, 2}


def test_settled_days_widen_it_again(db, ansgar, send, received, pushed):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 10), _receive(_day(4)))
    assert [_right(db, ansgar, _day(number)).state.ease for number in (4, 6, 10)] == [1, 1, 0]


def test_it_never_widens_an_arm_that_is_eased_further(db, ansgar, send, received, pushed):
    pushed(ease=1)
    flares = [*CALM, (7, 3), (None, 1), (7, 3), (None, 1)]
    send(ansgar, received(), *days_of(FIRST_DAY, flares), _receive(_day(8)))
    assert _right(db, ansgar, _day(8)).state.ease == 2


def test_it_does_not_touch_a_hold(db, ansgar, send, received, pushed):
    pushed(ease=2)
    send(ansgar, received(), *days_of(FIRST_DAY, CALM), session(_day(4), 9, sharp=True, seq=60), _receive(_day(5)))
    state = _right(db, ansgar, _day(5)).state
    assert (state.mode, state.ease) == ("held", 0)


def test_the_next_version_without_it_changes_nothing(db, ansgar, hedda, send, received, pushed):
    pushed()
    routines.push(db, ansgar.id, starter(BELL_FOUNDER.area), BELL_FOUNDER.settings, "A word.", hedda.id, NOW)
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 6), _receive(_day(4)), _receive(_day(5), version=3))
    state = _right(db, ansgar, _day(5)).state
    assert (state.ease, state.settled_streak) == (1, 1)


def test_no_state_gets_more_from_an_ease_by_hand(db, ansgar, pushed):
    pushed(ease=1)
    first, second = (routines.find(db, ansgar.id, version) for version in (1, 2))
    old, new = plan_of(first), plan_of(second)
    walked = [state for state in walk(old).states if state.mode != "held"]
    assert len(walked) > 100
    for state in walked:
        after = switched(old, new, "right", state)
        assert (after.rung, after.mode) == (state.rung, state.mode), state
        assert after.ease >= state.ease, state

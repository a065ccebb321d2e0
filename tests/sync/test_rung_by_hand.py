"""A rung that the practitioner chose comes to the phone: it moves only its arm, and never up soon after a stop or a flare."""

from datetime import timedelta

import pytest

from tests.builders import days_of, event, morning, session
from tests.cast import BELL_FOUNDER, BOOKBINDER, FIRST_DAY, NOW
from webapp.dosing.responses import RESPONSES
from webapp.dosing.settings import ARMS
from webapp.library.routine import starter
from webapp.records import routines
from webapp.sync.folding.anchors import anchors_of
from webapp.sync.folding.fold import accounts_of
from webapp.sync.log import practice_events

GIVEN, LOW = 8, 1
PUSHED = 10


def _day(number):
    return FIRST_DAY + timedelta(days=number)


@pytest.fixture
def pushed(db, ansgar, hedda):
    """A function that pushes a version with a chosen rung after the founder's first version."""

    def push(rung=GIVEN):
        settings = {**BELL_FOUNDER.settings, "start_rungs": {"right": rung}}
        routines.push(db, ansgar.id, starter(BELL_FOUNDER.area), settings, "", hedda.id, NOW)

    return push


def _receive(on):
    return event("routine_received", on, {"version": 2, "bundle": ""}, seq=901)


def _right(db, client, on):
    return accounts_of(db, client.id, on)["right"]


def _anchor(db, client, on):
    return anchors_of(db, client.id, on, 2)["right"]


def _anchor_of_first(db, client, on):
    return anchors_of(db, client.id, on, 1)["right"]


def _column(anchor, response):
    return anchor.states[RESPONSES.index(response)], anchor.why[RESPONSES.index(response)]


@pytest.mark.parametrize(("days_later", "rung"), [(1, None), (7, None), (8, GIVEN)])
def test_a_rise_counts_for_nothing_up_to_the_seventh_day_after_a_flare(
    db, ansgar, send, received, pushed, days_later, rung
):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 4), session(_day(4), 7, seq=50))
    on = _day(4 + days_later)
    calm = days_of(_day(5), [(None, 0)] * (days_later - 1))
    send(ansgar, *({**entry, "id": entry["id"][:-3] + f"a{at:02d}"} for at, entry in enumerate(calm)))
    stood = _right(db, ansgar, on).state.rung
    send(ansgar, _receive(on))
    account = _right(db, ansgar, on)
    assert account.state.rung == (rung or stood)
    assert (account.refusal is None) is (rung is not None)
    assert account.reasons[-1] == ("own-hand" if rung else "hand-too-soon")


def test_less_counts_after_a_flare_too(db, ansgar, send, received, pushed):
    pushed(LOW)
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 4), session(_day(4), 7, seq=50), _receive(_day(5)))
    assert (_right(db, ansgar, _day(5)).state.rung, _right(db, ansgar, _day(5)).refusal) == (LOW, None)


def test_a_flare_of_the_very_day_undoes_the_rise_whichever_came_first(db, ansgar, send, received, pushed):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * PUSHED), _receive(_day(PUSHED)))
    raised, stood = _right(db, ansgar, _day(PUSHED)), _right(db, ansgar, _day(PUSHED - 1)).state.rung
    assert raised.state.rung == GIVEN
    anchor = _anchor(db, ansgar, _day(PUSHED))
    assert {
        state.rung for response, state in zip(RESPONSES, anchor.states, strict=True) if "flared" not in response
    } >= {GIVEN}
    assert GIVEN not in {state.rung for state in anchor.if_troubled.states}
    assert {why[-1] for why in anchor.if_troubled.why} >= {"hand-too-soon"}
    send(ansgar, session(_day(PUSHED), 7, seq=70))
    undone = _right(db, ansgar, _day(PUSHED))
    assert (undone.state.rung >= stood, undone.state.rung < GIVEN) == (True, True)
    assert undone.refusal.troubled_on == _day(PUSHED)


def test_an_anchor_leaves_the_rise_out_where_the_day_before_turns_out_a_flare(db, ansgar, send, received, pushed):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * PUSHED))
    anchor = _anchor(db, ansgar, _day(PUSHED))
    assert _column(anchor, "settled") == (anchor.states[RESPONSES.index("settled")]._replace(rung=GIVEN), ("own-hand",))
    state, why = _column(anchor, "flared")
    assert (state.mode, state.rung < GIVEN, why) == ("resting", True, ("rest-and-ease", "hand-too-soon"))


def test_a_checkpoint_remembers_a_flare_of_last_week(db, ansgar, send, received, pushed):
    pushed()
    send(
        ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 4), session(_day(4), 7, seq=50), morning(_day(5), 1, seq=51)
    )
    for number in range(6, 11):
        anchors_of(db, ansgar.id, _day(number), 1)
    assert _column(_anchor(db, ansgar, _day(11)), "missed")[1] == ("hand-too-soon",)
    assert _column(_anchor(db, ansgar, _day(12)), "missed")[1] == ("own-hand",)


def test_a_held_arm_is_not_raised_and_the_practitioner_is_told(db, ansgar, send, received, pushed):
    pushed()
    send(ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 4), session(_day(4), 9, sharp=True, seq=50))
    stood = _right(db, ansgar, _day(5)).state.rung
    send(ansgar, _receive(_day(20)))
    account = _right(db, ansgar, _day(20))
    assert (account.state.mode, account.state.rung, account.refusal.is_held) == ("held", stood, True)


def test_the_arm_without_a_rung_reads_nothing_of_a_hand(db, hedda, mirela, send, received):
    settings = {**BOOKBINDER.settings, "start_rungs": {"left": 2}}
    routines.push(db, mirela.id, starter(BOOKBINDER.area), settings, "", hedda.id, NOW)
    send(mirela, received(), *days_of(FIRST_DAY, [(1, 1)] * 2, arms=ARMS))
    anchors = anchors_of(db, mirela.id, _day(2), 2)
    assert _column(anchors["left"], "settled")[1] == ("own-hand",)
    assert (
        _column(anchors["right"], "settled")[1] == _column(anchors_of(db, mirela.id, _day(2), 1)["right"], "settled")[1]
    )


def test_an_arm_whose_new_bottom_asks_more_is_not_told_that_it_asks_no_more(db, hedda, ansgar, send, received):
    routine = starter(BELL_FOUNDER.area)
    fuller = {**routine, "tuning": {**routine.get("tuning", {}), "low_reps": 15}}
    first = {**BELL_FOUNDER.settings, "usual": 3}
    routines.push(db, ansgar.id, routine, first, "", hedda.id, NOW)
    routines.push(db, ansgar.id, fuller, first, "", hedda.id, NOW)
    send(ansgar, event("routine_received", FIRST_DAY, {"version": 2, "bundle": ""}, seq=900))
    send(ansgar, event("routine_received", _day(1), {"version": 3, "bundle": ""}, seq=901))
    assert _right(db, ansgar, _day(1)).reasons == ("carried-to-the-bottom",)


def test_an_anchor_says_when_and_why_what_is_asked_last_changed(db, ansgar, send, received, pushed):
    send(
        ansgar, received(), *days_of(FIRST_DAY, [(1, 1)] * 4), session(_day(4), 7, seq=50), morning(_day(5), 1, seq=51)
    )
    flared = _anchor_of_first(db, ansgar, _day(5)).changed[RESPONSES.index("flared")]
    assert (flared.on, flared.why) == (_day(5), ("rest-and-ease",))
    over = _anchor_of_first(db, ansgar, _day(7)).changed[RESPONSES.index("missed")]
    assert (over.on, "first-week-together" in over.why) == (_day(7), True)
    for number in range(8, 12):
        assert _anchor_of_first(db, ansgar, _day(number)).changed[RESPONSES.index("missed")] == over, (
            "a checkpoint keeps it"
        )
    pushed(LOW)
    by_hand = _anchor(db, ansgar, _day(11)).changed[RESPONSES.index("missed")]
    assert (by_hand.on, by_hand.why) == (_day(11), ("own-hand",))


def test_a_release_of_an_arm_that_begins_held_is_a_change_of_its_first_day(db, ansgar, send, received):
    sharp = session(_day(-1), 9, sharp=True, seq=50)
    send(ansgar, sharp, received())
    body = {"rung": 1, "range": 0.5, "covers": [sharp["id"]], "reason": "", "by": ""}
    practice_events.put(db, ansgar.id, "hold_released", FIRST_DAY, {"arms": {"right": body}}, NOW)
    changed = _anchor_of_first(db, ansgar, _day(1)).changed[RESPONSES.index("unreported")]
    assert (changed.on, changed.why) == (FIRST_DAY, ("released",))

"""What a log says of each session, in whatever order and however often its entries arrive."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.builders import played
from webapp.events import kinds
from webapp.events.codec import check_body
from webapp.events.kinds import Event
from webapp.events.sessions import Easing, sessions

FIRST, SECOND = date(2026, 5, 14), date(2026, 5, 15)


def event(number, kind, on, body, seq=None):
    name = f"01935e0a-0000-7000-8000-{number:012d}"
    return Event(name, kind, 1, on, f"{on}T08:00:00Z", "Europe/Lisbon", seq or number, body)


def finished(number, on=FIRST, **fields):
    arms = {"right": {"worst": 2, "sharp": False, "sets": played()}}
    plain = {"routine": 1, "arms": arms, "asked_steps": 9, "done_steps": 9,
        "active_seconds": 60, "ended": "completed"}  # fmt: skip
    body = {**plain, **fields}
    check_body("session_finished", body)
    return event(number, "session_finished", on, body)


def eased(*easings):
    return [{"step": step, "what": lever, "movement": movement} for step, lever, movement in easings]


def corrected(number, target, body, seq=None):
    return event(number, "entry_corrected", SECOND, {"replaces": target.id, "body": body}, seq)


TOLD = {"where": "wrist", "like": "stab", "sign": False}
STOPPED = finished(3, SECOND, ended="sharp", arms={"left": {"worst": None, "sharp": True, "sets": []}})
LOG = (
    finished(1, note=" A good one. ", ways=["short", "own_pace"]),
    finished(2, ended="stopped", why="tired", gaps=[[30, 5], [80, 7]]),
    STOPPED,
    corrected(4, STOPPED, STOPPED.body | {"sharp_told": TOLD}),
    event(5, "morning_reported", SECOND, {"arms": {"right": {"pain": 1}}}),
    event(6, "session_begun", SECOND, {"arms": 3}),
)


def test_the_latest_day_comes_first_and_of_a_day_the_last_one_begun():
    assert [(each.on, each.id[-1]) for each in sessions(LOG)] == [(SECOND, "3"), (FIRST, "2"), (FIRST, "1")]


@given(st.permutations(LOG), st.lists(st.sampled_from(LOG), max_size=5))
def test_order_and_repetition_change_nothing(shuffled, again):
    assert sessions([*shuffled, *again]) == sessions(LOG)


def test_a_session_of_an_older_phone_says_no_more_than_it_knew():
    [session] = sessions([finished(1)])
    assert (session.worst, session.sharp, session.ended, session.why, session.note) == (
        {"right": 2},
        (),
        "completed",
        "",
        "",
    )
    assert (session.ways, session.eased, session.gaps, session.away_seconds, session.sharp_told) == ((), (), 0, 0, None)


def test_each_arm_has_its_own_number_the_right_one_first():
    arms = {"left": {"worst": None, "sets": played()}, "right": {"worst": 4, "sharp": True, "sets": played()}}
    [session] = sessions([finished(1, arms=arms)])
    assert list(session.worst.items()) == [("right", 4), ("left", None)]
    assert session.sharp == ("right",)


def test_what_was_eased_is_counted_by_movement_in_the_order_it_was_first_eased():
    easings = eased((3, "range", "palm_up"), (3, "load", "palm_up"), (5, "range", "palm_up"), (7, "range", "palm_down"))
    [session] = sessions([finished(1, eased=easings)])
    assert session.eased == (
        Easing("range", "palm_up", 2),
        Easing("load", "palm_up", 1),
        Easing("range", "palm_down", 1),
    )


def test_an_easing_that_names_no_movement_is_kept():
    [session] = sessions([finished(1, eased=[{"step": 2, "what": "leave"}])])
    assert session.eased == (Easing("leave", "", 1),)


def test_interruptions_are_counted_and_added_up():
    [session] = sessions([LOG[1]])
    assert (session.gaps, session.away_seconds) == (2, 12)


@pytest.mark.parametrize(
    "gaps", [None, 7, "no", {}, [[1]], [[1, "2"]], [5], [[1, 2, 3]], [[True, False]], [[0.5, 1.5]]]
)
def test_gaps_that_make_no_sense_are_no_gaps(gaps):
    [session] = sessions([finished(1, gaps=gaps)])
    assert (session.gaps, session.away_seconds) == (0, 0)


def test_answers_given_after_the_stop_belong_to_its_session():
    assert sessions(LOG)[0].sharp_told == TOLD
    assert sessions(LOG[:3])[0].sharp_told is None


def test_answers_whose_session_has_not_come_make_no_session():
    assert sessions([LOG[3]]) == []


def test_of_several_corrections_the_last_of_the_device_counts():
    fixes = [corrected(number, LOG[0], LOG[0].body | {"note": f"n{number}"}) for number in (8, 9)]
    assert sessions([LOG[0], *reversed(fixes)])[0].note == "n9"


def test_a_withdrawn_session_is_gone():
    assert sessions([LOG[0], corrected(9, LOG[0], None)]) == []


def test_every_way_and_every_easing_is_told():
    [session] = sessions(
        [finished(1, ways=list(kinds.WAYS), eased=eased(*((1, lever, "x") for lever in kinds.EASINGS)))]
    )
    assert session.ways == kinds.WAYS
    assert tuple(each.lever for each in session.eased) == kinds.EASINGS

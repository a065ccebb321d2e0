"""What a log adds up to, in whatever order and however often it arrives."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from tests.builders import WHOLE, played
from webapp.events.daybook import Known, daybook
from webapp.events.kinds import Event

FIRST, SECOND = date(2026, 5, 14), date(2026, 5, 15)


def event(number, kind, on, body, seq=None):
    name = f"01935e0a-0000-7000-8000-{number:012d}"
    return Event(name, kind, 1, on, f"{on}T08:00:00Z", "Europe/Lisbon", seq or number, body)


def session(number, on=FIRST, worst=2, sharp=False, arm="right", sets=None):
    report = {"worst": worst, "sharp": sharp, "sets": played() if sets is None else sets}
    return event(number, "session_finished", on, {"arms": {arm: report}, "routine": 1,
        "asked_steps": 9, "done_steps": 9, "active_seconds": 60, "ended": "completed"})  # fmt: skip


def one_set(movement, share, reps=8):
    return {"movement": movement, "reps": reps, "load_kg": 0.5, "range": 0.75, "share": share}


def day(*logged):
    return daybook(logged)["right"][FIRST]


def morning(number, on=SECOND, pain=1, sharp=False):
    return event(number, "morning_reported", on, {"arms": {"right": {"pain": pain, "sharp": sharp}}})


LOG = (
    session(1, worst=2, sets=played(300)),
    session(2, worst=4, sets=played(500)),
    morning(3, pain=3),
    morning(4, pain=2),
    session(5, SECOND, worst=1),
    event(6, "entry_corrected", SECOND, {"replaces": session(2).id, "body": session(2, worst=5).body}),
    event(7, "warning_raised", SECOND, {"sign": "numb", "arms": ["right"]}),
    event(8, "something_newer", SECOND, {"arms": 3}),
)


def test_sessions_add_up_and_the_worst_rating_counts():
    shares = (("little_finger_up", 800), ("palm_down", 800), ("palm_up", 800), ("thumb_up", 800))
    assert daybook(LOG[:2]) == {"right": {FIRST: Known(sessions=2, shares=shares, during=4)}}


@given(st.permutations([("palm_down", 400), ("palm_up", 250), ("palm_down", 250), ("thumb_up", 0), ("palm_up", 100)]))
def test_the_shares_of_a_movement_add_up_over_the_sessions_of_a_day_in_any_order(pieces):
    sessions = [session(number, sets=[one_set(*piece)]) for number, piece in enumerate(pieces, 1)]
    assert day(*sessions).shares == (("palm_down", 650), ("palm_up", 350), ("thumb_up", 0))


def test_a_second_copy_of_a_session_adds_no_share():
    once = session(1, sets=[one_set("palm_down", 400)])
    assert day(once, once).shares == (("palm_down", 400),)


def test_a_session_without_a_rep_is_no_session_and_asks_for_no_rating():
    idle = day(session(1, worst=None, sets=[one_set("palm_down", 0, reps=0)]))
    assert (idle.sessions, idle.is_unrated) == (0, False)
    assert day(session(1, worst=None, sets=[])) == Known()


def test_a_share_without_a_rep_counts_for_nothing():
    assert day(session(1, sets=[one_set("palm_down", 900, reps=0)])).shares == (("palm_down", 0),)


def test_a_movement_that_was_asked_and_not_done_is_named_with_nothing_done():
    sets = [one_set("palm_down", WHOLE), one_set("palm_up", 0, reps=0)]
    assert day(session(1, sets=sets)).shares == (("palm_down", WHOLE), ("palm_up", 0))


def test_an_unrated_session_hides_no_known_number():
    known = day(session(1, worst=5), session(2, worst=None))
    assert (known.during, known.is_unrated, known.sessions) == (5, True, 2)


def test_sharp_pain_before_the_first_rep_makes_the_day_sharp_and_no_session():
    known = day(session(1, worst=None, sharp=True, sets=[]))
    assert (known.sharp, known.sessions) == (True, 0)


def test_of_two_reports_of_one_morning_the_worse_counts():
    assert daybook(LOG[2:4])["right"][SECOND].morning == 3


def test_a_correction_replaces_what_it_names():
    assert daybook((*LOG[:2], LOG[5]))["right"][FIRST].during == 5


def test_a_withdrawn_entry_counts_for_nothing():
    gone = event(9, "entry_corrected", SECOND, {"replaces": LOG[0].id, "body": None})
    assert daybook((LOG[0], gone)) == {}


def test_a_correction_that_does_not_fit_its_entry_leaves_it_as_it_was():
    odd = event(9, "entry_corrected", SECOND, {"replaces": LOG[2].id, "body": {"arms": {"right": {"pain": 99}}}})
    assert daybook((LOG[2], odd))["right"][SECOND].morning == 3


def test_of_several_corrections_the_last_of_the_device_counts():
    fixes = [
        event(number, "entry_corrected", SECOND, {"replaces": LOG[2].id, "body": morning(0, pain=number).body})
        for number in (9, 10)
    ]
    assert daybook((LOG[2], *reversed(fixes)))["right"][SECOND].morning == 10


def test_a_warning_sign_that_holds_nothing_says_nothing_of_an_arm():
    body = {"sign": "heart", "arms": ["right", "left"], "holds": False}
    assert daybook([event(1, "warning_raised", FIRST, body)]) == {}


def test_a_warning_sign_makes_the_day_sharp_for_each_arm_named():
    book = daybook([event(1, "warning_raised", FIRST, {"sign": "numb", "arms": ["right", "left"]})])
    assert {arm: days[FIRST].sharp for arm, days in book.items()} == {"right": True, "left": True}


@given(st.permutations(LOG), st.lists(st.sampled_from(LOG), max_size=5))
def test_order_and_repetition_change_nothing(shuffled, again):
    assert daybook([*shuffled, *again]) == daybook(LOG)

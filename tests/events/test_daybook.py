"""What a log adds up to, in whatever order and however often it arrives."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from webapp.events.daybook import Known, daybook
from webapp.events.kinds import Event

FIRST, SECOND = date(2026, 5, 14), date(2026, 5, 15)


def event(number, kind, on, body, seq=None):
    name = f"01935e0a-0000-7000-8000-{number:012d}"
    return Event(name, kind, 1, on, f"{on}T08:00:00Z", "Europe/Lisbon", seq or number, body)


def session(number, on=FIRST, worst=2, sharp=False, arm="right"):
    return event(number, "session_finished", on, {"arms": {arm: {"worst": worst, "sharp": sharp}}, "routine": 1,
        "asked_steps": 9, "done_steps": 9, "active_seconds": 60, "ended": "completed"})  # fmt: skip


def morning(number, on=SECOND, pain=1, sharp=False):
    return event(number, "morning_reported", on, {"arms": {"right": {"pain": pain, "sharp": sharp}}})


LOG = (
    session(1, worst=2),
    session(2, worst=4),
    morning(3, pain=3),
    morning(4, pain=2),
    session(5, SECOND, worst=1),
    event(6, "entry_corrected", SECOND, {"replaces": session(2).id, "body": session(2, worst=5).body}),
    event(7, "warning_raised", SECOND, {"sign": "numb", "arms": ["right"]}),
    event(8, "something_newer", SECOND, {"arms": 3}),
)


def test_sessions_add_up_and_the_worst_rating_counts():
    assert daybook(LOG[:2]) == {"right": {FIRST: Known(sessions=2, during=4)}}


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


def test_a_warning_sign_makes_the_day_sharp_for_each_arm_named():
    book = daybook([event(1, "warning_raised", FIRST, {"sign": "numb", "arms": ["right", "left"]})])
    assert {arm: days[FIRST].sharp for arm, days in book.items()} == {"right": True, "left": True}


@given(st.permutations(LOG), st.lists(st.sampled_from(LOG), max_size=5))
def test_order_and_repetition_change_nothing(shuffled, again):
    assert daybook([*shuffled, *again]) == daybook(LOG)

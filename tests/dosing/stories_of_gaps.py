"""Each rule of days without a session by its own story."""

from tests.dosing.teller import story
from webapp.dosing.state import State


@story
def a_flare_without_a_session_does_the_same_and_the_gap_goes_on(by):
    away = State(5, gap_days=2, gap_rung=5)
    assert by.after(away, "flared_idle") == State(5, ease=1, gap_days=3, gap_rung=5, rest_days=1, mode="resting")
    assert by.after(away, "flared").gap_days == 0
    assert by.why(away, "flared_idle") == ("rest-and-ease", "gap-streak")


@story
def sore_counts_as_tender_and_goes_on_with_the_gap(by):
    assert by.after(State(5), "sore") == State(5, tender_days=1, gap_days=1, gap_rung=5)
    assert by.after(State(5, tender_days=3), "sore") == State(5, ease=1, gap_days=1, gap_rung=5)
    assert by.why(State(5), "sore") == ("stay",)
    assert by.why(State(5, gap_days=2, gap_rung=5), "sore") == ("stay", "gap-streak")


@story
def days_without_a_session_step_down_as_the_table_says(by):
    # Our own choice, cautious against published detraining (McMaster 2013, seen second-hand).
    rows = [(1, 11, 2, 2, "gap-resume"), (2, 11, 2, 2, "gap-resume"), (3, 11, 0, 2, "gap-streak"), (6, 11, 0, 2, "gap-streak"),
            (7, 9, 0, 0, "gap-two-down"), (13, 9, 0, 0, "gap-streak"), (14, 6, 0, 0, "gap-half"), (27, 6, 0, 0, "gap-streak"),
            (28, 1, 0, 0, "gap-start"), (90, 1, 0, 0, "gap-streak")]  # fmt: skip
    for days, rung, streak, pace, reason in rows:
        was = by.after(State(11, settled_streak=2, pace=2), *["missed"] * (days - 1))
        state = by.after(was, "missed")
        assert (state.rung, state.settled_streak, state.pace) == (rung, streak, pace), days
        assert state.gap_days == min(days, 28)
        assert by.why(was, "missed") == (reason,), days


@story
def near_the_bottom_a_gap_never_gives_more_than_a_shorter_one(by):
    # Half way down from the third rung is the second; two below it is the first, and the lower of both counts.
    for rung, week, fortnight in ((1, 1, 1), (2, 1, 1), (3, 1, 1), (4, 2, 2), (5, 3, 3), (6, 4, 3), (8, 6, 4)):
        assert by.after(State(rung), *["missed"] * 7).rung == week, rung
        assert by.after(State(rung), *["missed"] * 14).rung == fortnight, rung
    assert by.why(by.after(State(2), *["missed"] * 6), "missed") == ("gap-one-down",)
    assert by.why(by.after(State(5), *["missed"] * 13), "missed") == ("gap-streak",)


@story
def a_gap_goes_on_whatever_the_mornings_say(by):
    # Seventy good days, then 27 without a session, then a 28th: the morning changes nothing.
    long = State(20, gap_days=27)
    assert by.after(long, "missed").rung == by.after(long, "sore").rung == by.after(long, "flared_idle").rung == 1
    away = by.after(State(20), *["sore"] * 40)
    assert (away.rung, away.ease) == (1, 2)


@story
def a_gap_counts_while_resting_and_a_session_on_a_day_of_rest_ends_it(by):
    resting = State(11, ease=1, gap_days=6, gap_rung=11, rest_days=2, mode="resting")
    assert by.after(resting, "missed") == State(9, ease=1, gap_days=7, gap_rung=11)
    assert by.why(resting, "missed") == ("rest-over", "gap-two-down")
    assert by.after(resting, "partly") == State(11, ease=1)
    assert by.after(resting, "flared") == State(11, ease=1, rest_days=3, mode="resting")


@story
def the_first_day_back_ends_the_gap(by):
    assert by.after(State(11), "missed", "missed", "settled").gap_days == 0
    assert by.after(State(11), "missed", "missed", "partly").gap_days == 0

"""A day with sport, on a rung with weight: an unloaded warm-up before, the loaded work after, and together one day's dose."""

from dataclasses import replace

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS, RUN, STORE
from e2e.screens import AfterScreen
from e2e.test_ways import choose, finished, sets
from tests.cast import BELL_FOUNDER
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.settings import Body

HEAVY_RUNG = 12
COUNTS = f"{STORE} return (await store.bundle()).counts; }}"
DIRECTIONS = {"palm_up": "flexion", "palm_down": "extension", "little_finger_up": "ulnar", "thumb_up": "radial"}


@pytest.fixture
def phone(one_phone, joined):
    """The phone of a bell founder who has come as far as a weight."""
    joined(one_phone, replace(BELL_FOUNDER, start_rung=HEAVY_RUNG))
    return one_phone


KINDS = {"routine_received", "screening_answered", "session_finished"}


@pytest.mark.long
def test_the_day_is_split_about_sport_and_no_more_than_a_day(phone, practice):
    stands = phone.standing()["right"]
    session = phone.open_session()
    choose(session, ("part", "before_sport"))
    phone.play(2)
    before, held_before = sets(phone), holds(phone)
    end(phone)
    session = phone.open_session()
    session.ways.tap()
    expect(session.way("part", "short")).to_be_visible()
    expect(session.way("part", "before_sport")).to_be_hidden()
    session.main.tap()
    phone.play(2)
    after, held_after = sets(phone), holds(phone)
    dose = phone.page.evaluate(RUN)["plan"]["arms"][0]["dose"]
    end(phone)
    assert [each[0] for each in before] == [each[0] for each in after] == list(DIRECTIONS)
    assert {each[2] for each in before} == {0.0}
    assert [each[2] for each in after] == [each["load_kg"] for each in dose["sets"]]
    assert all(each[2] > 0 for each in after)
    assert (held_before, held_after) == ([], [each["movement"] for each in dose["holds"]])
    # Both parts are at most the session they stand for, and less only by the reps that do not come out whole.
    whole = [(each["movement"], each["reps"], each["load_kg"], each["range"]) for each in dose["sets"]]
    due, done = work(whole), work(before) + work(after)
    one_rep_each = sum(work([(name, 1, load, range_)]) for name, _, load, range_ in whole)
    assert due - one_rep_each < done <= due
    for _ in range(stands["sessions"] - 1):
        phone.begin_session()
        end(phone)
    expect(phone.day.done).to_be_visible()
    bodies = finished(phone)
    assert [each["ways"] for each in bodies] == [["before_sport"], *[[]] * stands["sessions"]]
    assert all(each["done_steps"] == each["asked_steps"] for each in bodies)
    # One of them is the warm-up, which stands for no session: the day has what it asks, by both accounts.
    phone.send()
    logged = [event["body"] for event in practice.log(1) if event["kind"] == "session_finished"]
    assert [each["ways"] for each in logged] == [each["ways"] for each in bodies]
    assert {each["kind"] for each in phone.page.evaluate(EVENTS)} == KINDS


@pytest.mark.long
def test_a_warm_up_before_sport_leaves_the_rest_of_the_session_for_after(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    due = one_phone.standing()["right"]["sessions"]
    assert due > 1
    session = one_phone.open_session()
    choose(session, ("part", "before_sport"))
    one_phone.play(2)
    before = sets(one_phone)
    assert len(before) == 4
    assert {each[2] for each in before} == {0.0}
    assert not any(step["kind"] == "hold" for step in one_phone.page.evaluate(RUN)["plan"]["steps"])
    one_phone.play_to_the_end()
    one_phone.rate(1)
    assert finished(one_phone)[0]["ways"] == ["before_sport"]
    one_phone.begin_session()
    one_phone.play(2)
    after = sets(one_phone)
    assert [each[0] for each in after] == [each[0] for each in before]
    dose, counts = one_phone.page.evaluate(RUN)["plan"]["arms"][0]["dose"], one_phone.page.evaluate(COUNTS)
    asked_reps = [each["reps"] for each in dose["sets"]]
    assert [each[1] for each in after] == counts[dose["sport"][1]]
    assert all(less[1] <= reps for less, reps in zip(after, asked_reps, strict=True))
    one_phone.play_to_the_end()
    one_phone.rate(1)
    for _ in range(due - 1):
        one_phone.begin_session()
        one_phone.play(2)
        assert [each[1] for each in sets(one_phone)] == asked_reps
        one_phone.play_to_the_end()
        one_phone.rate(1)
    expect(one_phone.day.done).to_be_visible()
    assert len(finished(one_phone)) == due + 1


def end(phone):
    """Let it run to its end, and answer what is asked there: how the arm felt, once."""
    phone.play_to_the_end()
    expect(AfterScreen(phone.page).title).to_be_visible()
    phone.rate(1)


def holds(phone):
    """The stretches of the session that is on."""
    return [step["movement"] for step in phone.page.evaluate(RUN)["plan"]["steps"] if step["kind"] == "hold"]


def work(some):
    """Joules lifted in sets of (movement, reps, kg, share of the range), by the core's own account."""
    body = Body(BELL_FOUNDER.mass_kg, BELL_FOUNDER.height_m, BELL_FOUNDER.sex)
    return sum(
        reps * work_of_rep_j(body, load_kg, *arc_degrees(DIRECTIONS[movement], range_))
        for movement, reps, load_kg, range_ in some
    )

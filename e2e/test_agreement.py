"""Picture, tones, words and voice agree where a session is not the plain one: eased in the middle, short, both arms at once."""

import pytest
from playwright.sync_api import expect

from e2e.agreement import assert_picture_agrees, assert_tones_agree, assert_voice_agrees, assert_words_agree, read
from e2e.screens import SessionScreen
from e2e.test_voice import STUB
from e2e.test_ways import TO_THE_FIRST_SET, choose, ease
from tests.cast import BELL_FOUNDER, BOOKBINDER

# By then the run has been kept anew, after the waiting before it went on.
UNTIL_KEPT = 8
TWO_SETS = 110
NARROWER = "Go only three quarters of the way, as the arcs show."


@pytest.fixture
def phone(one_phone):
    """A phone with a voice."""
    one_phone.context.add_init_script(path=STUB)
    return one_phone


def agree(reading, least):
    assert_words_agree(reading)
    assert_picture_agrees(reading, least)
    assert_tones_agree(reading)
    assert_voice_agrees(reading)


@pytest.mark.long
def test_a_short_day_with_both_arms_at_once_is_shown_sounded_and_spoken_alike(phone, joined):
    joined(phone, BOOKBINDER)
    choose(phone.open_session(), ("arms", "both"), ("part", "short"))
    reading = read(phone)
    assert {step["arm"] for step in reading.sheet["steps"]} == {"both", "right", "left"}
    assert len(reading.whole_steps) > 10
    agree(reading, least=5)


def test_after_easing_the_smaller_dose_is_shown_sounded_and_spoken_alike(phone, joined):
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    session = SessionScreen(phone.page)
    phone.play(TO_THE_FIRST_SET)
    whole_arc, whole_count = arc(phone), count(session)
    ease(phone, session, "range")
    assert arc(phone) == pytest.approx(whole_arc * 0.75, rel=0.02)
    ease(phone, session, "reps")
    assert count(session) < whole_count
    phone.play(UNTIL_KEPT)
    reading = read(phone, TWO_SETS)
    agree(reading, least=5)
    sets = [(number, step) for number, _, step in reading.whole_steps if step["kind"] == "reps"]
    assert sets
    for number, step in sets:
        looks = [look for look in reading.looks if look["place"] == number]
        said = [text for look in reading.every if look["place"] == number for text in look["spoken"]]
        assert said[0] == f"{step['name']}: {step['reps']} times, no weight."
        assert said[-1] == str(step["reps"]) == looks[-1]["numeral"]
        assert NARROWER in {look["cue"] for look in looks}


def arc(phone):
    """How long the arc of the day's range is drawn."""
    return phone.page.evaluate("document.querySelector('.session .wrist-day').getTotalLength()")


def count(session):
    """How many reps the screen says are asked."""
    expect(session.of).to_contain_text("of ")
    return int(session.of.inner_text().split()[1])

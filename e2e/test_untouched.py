"""One tap starts a session, and nobody touches the phone again until its end; and picture, tone and words agree all the way."""

import pytest
from playwright.sync_api import expect

from e2e.agreement import assert_picture_agrees, assert_tones_agree, assert_words_agree, read
from e2e.phone_reading import RUN
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER

COUNT_TOUCHES = """() => {
  window.touches = { pointerdown: 0, touchstart: 0, click: 0, keydown: 0 };
  for (const kind of Object.keys(touches))
    addEventListener(kind, (event) => { touches[kind] += event.isTrusted; }, { capture: true });
}"""
ONE_TAP = {"pointerdown": 1, "touchstart": 1, "click": 1, "keydown": 0}


@pytest.fixture
def phone(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    return one_phone


def test_one_tap_on_the_day_page_plays_a_whole_session(phone):
    phone.check_sound()
    phone.page.evaluate(COUNT_TOUCHES)
    phone.day.start.tap()
    expect(SessionScreen(phone.page).running).to_be_visible()
    phone.play_to_the_end()
    expect(AfterScreen(phone.page).title).to_be_visible()
    assert phone.page.evaluate("touches") == ONE_TAP
    over = phone.page.evaluate(RUN)
    work = [number for number, step in enumerate(over["plan"]["steps"]) if step["kind"] in {"warm_up", "reps", "hold"}]
    assert over["ended"] == "completed"
    assert over["begun"] == over["done"] == work
    assert over["gaps"] == []


@pytest.mark.long
def test_picture_tone_and_words_agree_at_every_cue(phone):
    phone.begin_session()
    reading = read(phone)
    assert len(reading.looks) > 300
    assert_words_agree(reading)
    assert_picture_agrees(reading, least=10)
    assert_tones_agree(reading)

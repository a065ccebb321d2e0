"""The timed session itself: paused, left, slept through, stopped; and its tones."""

import pytest
from playwright.sync_api import expect

from e2e.phone_reading import EVENTS, RUN, STORE
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER

LEAD_IN = 6
STILL_THERE = STORE.replace("async ()", "async (run)") + "await store.saveRun(run); }"


@pytest.fixture
def phone(one_phone):
    """Nothing here depends on the size of the screen."""
    return one_phone


@pytest.fixture
def session(phone, server, joined):
    """A session under way on a dead server."""
    joined(phone, BELL_FOUNDER)
    server.kill()
    phone.begin_session()
    return SessionScreen(phone.page)


def test_a_pause_stands_still_until_it_is_ended(phone, session):
    phone.play(15)
    session.main.tap()
    expect(session.paused).to_be_visible()
    step, count = session.title.inner_text(), session.numeral.inner_text()
    phone.play(60)
    assert (session.title.inner_text(), session.numeral.inner_text()) == (step, count)
    session.main.tap()
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()
    expect(session.title).to_have_text(step)


def test_a_session_left_by_a_reload_goes_on_at_the_same_step(phone, session):
    phone.stand_still()
    phone.play(90)
    step = session.title.inner_text()
    phone.open()
    phone.day.go_on.tap()
    expect(session.title).to_have_text(step)
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()


def test_a_phone_that_slept_pauses_the_session_where_it_was(phone, session):
    phone.stand_still()
    phone.play(30)
    step = session.title.inner_text()
    phone.context.clock.fast_forward(10 * 60 * 1000)
    expect(session.paused).to_be_visible()
    expect(session.title).to_have_text(step)
    expect(session.away).to_be_visible()


def test_a_session_stopped_early_keeps_its_reason(phone, session, server, practice):
    phone.play(120)
    session.stop.tap()
    session.why("tired").tap()
    expect(AfterScreen(phone.page).title).to_be_visible()
    phone.rate(2)
    server.start()
    phone.send()
    body = next(event["body"] for event in practice.log(1) if event["kind"] == "session_finished")
    assert (body["ended"], body["why"]) == ("stopped", "tired")
    assert 0 < body["done_steps"] < body["asked_steps"]
    assert 60 < body["active_seconds"] < 200


def test_a_session_without_a_number_is_asked_for_one(phone, session):
    phone.play_to_the_end()
    after = AfterScreen(phone.page)
    after.save.tap()
    expect(after.fault).to_be_visible()
    assert "session_finished" not in phone.log()["kinds"]


def test_a_line_half_typed_after_a_session_outlives_a_reload(phone, session):
    phone.play(20)
    session.stop.tap()
    session.why("tired").tap()
    after = AfterScreen(phone.page)
    after.line.press_sequentially("Filed bells")
    phone.play(1)
    phone.open()
    phone.day.answer_now.tap()
    expect(after.line).to_have_value("Filed bells")


def test_no_tone_is_laid_out_too_late_to_be_heard_in_time(phone, session):
    phone.play(200)
    tones = phone.page.evaluate("tonesOfThisPage")
    assert len(tones) > 20
    assert all(tone["at"] >= tone["asked"] - 0.06 for tone in tones)


def test_a_page_closed_between_saving_and_putting_away_saves_once(phone, session):
    phone.play_to_the_end()
    over = phone.page.evaluate(RUN)
    assert over["ended"] == "completed"
    phone.rate(2)
    [saved] = [entry for entry in phone.page.evaluate(EVENTS) if entry["kind"] == "session_finished"]
    # The page was gone before the run was put away: it still lies on the phone, over and in the log.
    phone.page.evaluate(STILL_THERE, over)
    phone.open()
    expect(phone.day.answer_now).to_be_visible()
    phone.day.answer_now.tap()
    phone.rate(2)
    again = [entry for entry in phone.page.evaluate(EVENTS) if entry["kind"] == "session_finished"]
    assert [entry["id"] for entry in again] == [saved["id"]]
    assert phone.page.evaluate(RUN) is None

"""A stop for sharp pain is seen and kept whatever else happens: a second tap, a reload, a full phone, another window."""

import pytest
from playwright.sync_api import expect

from e2e.phone import SECONDS_TO_THE_FIRST_SET, SHELL
from e2e.phone_reading import EVENTS, RUN
from e2e.screens import AfterScreen, DayScreen, SessionScreen, SharpScreen
from tests.cast import BELL_FOUNDER, HEDDA

FULL = """() => {
  window.halfturnPut = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); };
}"""
LEAD_IN = 6
ROOMY = "() => { IDBObjectStore.prototype.put = window.halfturnPut; }"
# A window that hears nothing of the others, as one that the system has put to sleep.
DEAF = "BroadcastChannel.prototype.postMessage = () => undefined;"


@pytest.fixture
def phone(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    return one_phone


def in_the_first_set(phone):
    phone.begin_session()
    phone.stand_still()
    phone.play(SECONDS_TO_THE_FIRST_SET)
    return SessionScreen(phone.page)


def finished(phone):
    return [entry["body"] for entry in phone.page.evaluate(EVENTS) if entry["kind"] == "session_finished"]


def is_sharp(body):
    return any(arm["sharp"] for arm in body["arms"].values())


def test_sharp_pain_is_saved_first_and_then_told_in_three_answers(phone, practice):
    in_the_first_set(phone).sharp.tap()
    sharp = SharpScreen(phone.page)
    expect(sharp.save).to_be_visible()
    expect(sharp.who).to_contain_text(HEDDA.name)
    assert finished(phone)[0]["arms"]["right"]["sharp"]
    sharp.answer("where", "outer_elbow").tap()
    sharp.save.tap()
    expect(sharp.fault).to_be_visible()
    sharp.answer("like", "catch").tap()
    sharp.answer("sign", "yes").tap()
    sharp.save.tap()
    expect(sharp.sign).to_be_visible()
    sharp.leave.tap()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.stop).to_contain_text(HEDDA.name)
    phone.send()
    fix = next(event["body"] for event in practice.log(1) if event["kind"] == "entry_corrected")
    assert fix["replaces"] == next(event["id"] for event in practice.log(1) if event["kind"] == "session_finished")
    assert fix["body"]["sharp_told"] == {"where": "outer_elbow", "like": "catch", "sign": True}
    assert fix["body"]["arms"]["right"]["sharp"]
    assert phone.standing()["right"]["mode"] == "training"


def test_a_second_tap_neither_leaves_nor_answers_what_comes_after_a_stop(phone):
    session = in_the_first_set(phone)
    box = session.sharp.bounding_box()
    where = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    phone.page.touchscreen.tap(*where)
    sharp = SharpScreen(phone.page)
    expect(sharp.title).to_be_visible()
    phone.page.touchscreen.tap(*where)
    phone.page.touchscreen.tap(*where)
    expect(sharp.save).to_be_visible()
    expect(sharp.caution).not_to_be_empty()
    assert phone.page.locator("#page .after input:checked:visible").count() == 0


def test_the_questions_after_a_stop_come_back_until_they_are_answered(phone):
    in_the_first_set(phone).sharp.tap()
    sharp = SharpScreen(phone.page)
    expect(sharp.save).to_be_visible()
    phone.page.reload()
    expect(sharp.save).to_be_visible()
    phone.open()
    expect(phone.day.stopped).to_be_visible()
    phone.day.answer_now.tap()
    for question, answer in (("where", "wrist"), ("like", "stab"), ("sign", "no")):
        sharp.answer(question, answer).tap()
    sharp.save.tap()
    expect(sharp.save).to_be_hidden()
    assert [is_sharp(body) for body in finished(phone)] == [True]
    phone.open()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.run).to_be_hidden()
    assert phone.page.evaluate(RUN) is None


def test_a_stop_on_a_full_phone_is_seen_at_once_and_kept_when_there_is_room(phone):
    session = in_the_first_set(phone)
    phone.page.evaluate(FULL)
    session.sharp.tap()
    sharp = SharpScreen(phone.page)
    expect(sharp.title).to_have_text("Stop. Put the weight down.")
    expect(sharp.saved).to_contain_text("Not saved yet")
    expect(sharp.caution).not_to_be_empty()
    phone.page.evaluate(ROOMY)
    sharp.again.tap()
    expect(sharp.saved).to_contain_text("saved on this phone")
    assert [is_sharp(body) for body in finished(phone)] == [True]
    sharp.leave.tap()
    expect(phone.day.stopped).to_be_visible()


@pytest.mark.long
def test_a_session_that_is_taken_up_in_another_window_is_left_in_the_first(phone):
    in_the_first_set(phone)
    other = phone.context.new_page()
    other.goto(SHELL)
    DayScreen(other).go_on.tap()
    expect(phone.day.taken).to_be_visible()
    phone.play(LEAD_IN)
    expect(SessionScreen(other).running).to_be_visible()
    expect(SessionScreen(phone.page).running).to_have_count(0)
    SessionScreen(other).stop.tap()
    SessionScreen(other).why("time").tap()
    after = AfterScreen(other)
    after.worst("right", 1).tap()
    after.save.tap()
    expect(DayScreen(other).title).to_be_visible()
    assert len(finished(phone)) == 1
    assert phone.page.evaluate(RUN) is None


@pytest.mark.long
def test_a_stop_in_a_window_whose_session_was_ended_in_another_is_kept_beside_it(phone):
    phone.context.add_init_script(DEAF)
    phone.open()
    in_the_first_set(phone)
    other = phone.context.new_page()
    other.goto(SHELL)
    DayScreen(other).answer_now.tap()
    after = AfterScreen(other)
    after.worst("right", 1).tap()
    after.save.tap()
    expect(DayScreen(other).title).to_be_visible()
    SessionScreen(phone.page).sharp.tap()
    expect(SharpScreen(phone.page).saved).to_contain_text("saved on this phone")
    assert sorted(is_sharp(body) for body in finished(phone)) == [False, True]
    SharpScreen(phone.page).leave.tap()
    expect(phone.day.stopped).to_be_visible()


def test_a_stop_pressed_by_mistake_is_taken_back_without_the_server_and_the_arm_trains_on(phone, practice, server):
    in_the_first_set(phone)
    server.kill()
    SessionScreen(phone.page).sharp.tap()
    sharp = SharpScreen(phone.page)
    sharp.mistake.tap()
    sharp.take_back.tap()
    expect(phone.day.taken_back).to_be_visible()
    expect(phone.day.stopped).to_be_hidden()
    expect(phone.day.saved).to_be_hidden()
    go_on(phone)
    SessionScreen(phone.page).stop.tap()
    SessionScreen(phone.page).why("time").tap()
    phone.rate(1)
    server.start()
    phone.sleep_until_morning()
    phone.send()
    standings = phone.standing(), practice.standing(1, phone.today)
    assert [standing["right"]["mode"] for standing in standings] == ["training", "training"]
    assert standings[0]["right"]["response"] == standings[1]["right"]["response"] != "sharp"
    log = practice.log(1)
    stop, whole = (event for event in log if event["kind"] == "session_finished")
    [taken_back] = [event["body"] for event in log if event["kind"] == "entry_corrected"]
    assert (taken_back["replaces"], taken_back["body"]) == (stop["id"], None)
    assert (is_sharp(stop["body"]), is_sharp(whole["body"]), whole["body"]["why"]) == (True, False, "time")


def test_a_stop_is_not_taken_back_once_a_sign_is_true_or_its_page_was_left(phone):
    in_the_first_set(phone).sharp.tap()
    sharp = SharpScreen(phone.page)
    sharp.mistake.tap()
    sharp.keep.tap()
    expect(sharp.take_back).to_be_hidden()
    sharp.answer("sign", "yes").tap()
    expect(sharp.mistake).to_be_hidden()
    sharp.answer("sign", "no").tap()
    expect(sharp.mistake).to_be_visible()
    phone.page.reload()
    expect(sharp.save).to_be_visible()
    expect(sharp.mistake).to_be_hidden()
    assert [is_sharp(body) for body in finished(phone)] == [True]


def test_sharp_pain_after_a_stop_that_was_taken_back_stops_the_arm_like_any_other(phone, practice):
    in_the_first_set(phone).sharp.tap()
    sharp = SharpScreen(phone.page)
    sharp.mistake.tap()
    sharp.take_back.tap()
    go_on(phone)
    SessionScreen(phone.page).sharp.tap()
    expect(sharp.mistake).to_be_visible()
    sharp.leave.tap()
    expect(phone.day.stopped).to_be_visible()
    phone.sleep_until_morning()
    phone.send()
    for standing in (phone.standing(), practice.standing(1, phone.today)):
        assert standing["right"]["mode"] == "held"


def go_on(phone):
    """Take the open session up, and let its lead-in pass once it is on the screen."""
    phone.day.go_on.tap()
    session = SessionScreen(phone.page)
    expect(session.lead.or_(session.running)).to_be_visible()
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()

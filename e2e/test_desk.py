"""The practitioner's side: signing in, taking a client on, pushing a routine, and seeing that the phone has it."""

import re

import pytest
from playwright.sync_api import expect

from e2e.arriving import answer_questions
from e2e.desk import Desk
from e2e.desk_pages import InvitationPage, SignInPage
from e2e.phone import SECONDS_TO_THE_FIRST_SET
from e2e.screens import AfterScreen, SessionScreen, SharpScreen
from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER, HEDDA

REASON = "The elbow was looked at on the bench and is calm."
# The paper's width of 210 mm less two margins of 14 mm, at 96 pixels to the inch of 25.4 mm.
A4_PIXELS = 688
WIDTH_OF_A_DOT = """async () => {
  const dot = document.body.appendChild(document.createElement("span"));
  dot.textContent = "\u00b7";
  dot.getBoundingClientRect();
  await document.fonts.ready;
  return dot.getBoundingClientRect().width;
}"""
A_SIGN = "a warning sign The client did not say which sign"


@pytest.fixture
def phone(one_phone):
    """Nothing here depends on the size of the screen."""
    return one_phone


def test_a_wrong_password_lets_nobody_in(desk, practice):
    page = desk.new_page()
    page.goto("/practice/")
    door = SignInPage(page)
    door.email.fill(HEDDA.email)
    door.password.fill("not her password at all")
    door.enter.click()
    expect(door.password).to_be_visible()
    page.goto("/practice/")
    expect(door.password).to_be_visible()


def test_a_new_client_gets_a_routine_by_code_and_then_a_changed_one(desk, practice, phone):
    hedda = Desk.signed_in(desk)
    hedda.take_on(BELL_FOUNDER)
    hedda.push("Filing arm, first weeks")
    expect(hedda.case.waiting).to_be_visible()
    hedda.case.make_code.click()

    phone.join_by_code(InvitationPage(hedda.page).code.inner_text())
    answer_questions(phone)
    expect(phone.day.start).to_be_visible()
    InvitationPage(hedda.page).done.click()
    expect(hedda.case.received).to_be_visible()

    hedda.case.change_routine.click()
    hedda.push("Filing arm, steadier")
    expect(hedda.case.versions).to_have_count(2)
    expect(hedda.case.waiting).to_be_visible()

    phone.send()
    expect(phone.routine_title()).to_contain_text("Filing arm, steadier")
    hedda.page.reload()
    expect(hedda.case.received).to_be_visible()


def test_what_the_client_did_stands_on_the_desk(desk, joined, phone):
    joined(phone, BELL_FOUNDER)
    phone.do_session(worst=4)
    phone.sleep_until_morning()
    phone.report_morning(2)
    phone.send()

    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    row = hedda.case.days.filter(has_text="aching")
    expect(row).to_have_count(1)
    expect(row.locator(".rating")).to_have_text(["4", "2"])
    hedda.page.set_viewport_size({"width": A4_PIXELS, "height": 900})
    hedda.page.emulate_media(media="print")
    expect(hedda.case.days_table).to_be_visible()
    assert hedda.case.days_table.evaluate("table => table.getBoundingClientRect().right") <= A4_PIXELS


def test_the_dot_between_two_words_has_a_width(desk, practice):
    hedda = Desk.signed_in(desk)
    assert hedda.page.evaluate(WIDTH_OF_A_DOT) > 1


@pytest.mark.long
def test_what_was_eased_and_the_line_after_it_are_read_at_the_desk(desk, joined, one_phone):
    joined(one_phone, BELL_FOUNDER)
    one_phone.begin_session()
    one_phone.play(SECONDS_TO_THE_FIRST_SET)
    session = SessionScreen(one_phone.page)
    # The screen follows the clock with its next frame.
    expect(session.title).not_to_have_text(re.compile("get ready", re.IGNORECASE))
    movement = session.title.inner_text().lower()
    session.ease_off.tap()
    session.easing("range").tap()
    one_phone.play(2)
    session.stop.tap()
    session.why("tired").tap()
    AfterScreen(one_phone.page).line.fill("Filed bells until noon.")
    one_phone.rate(3)
    one_phone.send()

    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    expect(hedda.case.sessions).to_have_count(1)
    for sentence in ("stopped early: tired", f"Eased: smaller range from {movement} on", "Filed bells until noon."):
        expect(hedda.case.sessions).to_contain_text(sentence)
    expect(hedda.case.sessions.locator(".rating")).to_have_text("3")
    assert not faults(hedda.page)


@pytest.mark.long
def test_answers_that_come_while_the_release_is_filled_in_are_read_first(desk, joined, one_phone):
    joined(one_phone, BELL_FOUNDER)
    stop_for_sharp_pain(one_phone)
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    expect(hedda.case.sharp_reports).to_contain_text("not answered")
    hedda.case.release_choice.select_option("1@0.75")
    hedda.case.release_reason.fill(REASON)
    hedda.case.release_talked.check()
    answer_with_a_sign(one_phone)

    hedda.case.release.click()
    expect(hedda.case.refused).to_be_visible()
    expect(hedda.case.sharp_reports).to_contain_text([A_SIGN, "Where: outer elbow. Like: a catch."])
    expect(hedda.case.release_talked).not_to_be_checked()
    assert not faults(hedda.page)
    expect(hedda.case.release_reason).to_have_value(REASON)
    hedda.case.seen_by.select_option("doctor")
    hedda.case.seen_on.fill(one_phone.today.isoformat())
    hedda.case.release_talked.check()
    hedda.case.release.click()
    expect(hedda.case.release).not_to_be_visible()
    expect(hedda.case.released).to_contain_text("Seen by a doctor")
    assert not faults(hedda.page)


def test_a_release_is_read_on_the_phone_with_its_reason_until_the_arm_has_trained(desk, joined, one_phone):
    joined(one_phone, BELL_FOUNDER)
    stop_for_sharp_pain(one_phone)
    Desk.signed_in(desk).release(BELL_FOUNDER.name, "1@0.75", REASON)
    SharpScreen(one_phone.page).leave.tap()
    one_phone.sleep_until_the_servers_day()
    one_phone.send()
    expect(one_phone.day.release).to_contain_text(f"{HEDDA.name} has released your right arm.")
    expect(one_phone.day.release).to_contain_text(REASON)
    assert not faults(one_phone.page)
    one_phone.do_session(worst=1)
    one_phone.open()
    expect(one_phone.day.done).to_be_visible()
    expect(one_phone.day.release).to_be_hidden()


@pytest.mark.long
def test_a_warning_sign_that_is_told_of_after_the_release_stops_the_arm_again(desk, practice, one_phone, joined):
    client = joined(one_phone, BELL_FOUNDER)
    stop_for_sharp_pain(one_phone)
    hedda = Desk.signed_in(desk)
    hedda.release(BELL_FOUNDER.name, "1@0.75")
    answer_with_a_sign(one_phone)

    one_phone.sleep_until_the_servers_day()
    one_phone.send()
    expect(one_phone.day.stopped).to_be_visible()
    for standing in (one_phone.standing(), practice.standing(client.id, one_phone.today)):
        assert standing["right"]["mode"] == "held"
    hedda.page.reload()
    expect(hedda.case.sharp_reports.first).to_contain_text(A_SIGN)


def stop_for_sharp_pain(phone):
    """Stop in the first set, and leave the three questions open on the phone; the stop itself is sent."""
    phone.begin_session()
    phone.play(SECONDS_TO_THE_FIRST_SET)
    with phone.page.expect_response("**/api/sync"):
        SessionScreen(phone.page).sharp.tap()
    expect(SharpScreen(phone.page).leave).to_be_visible()


def answer_with_a_sign(phone):
    """Answer the three questions, a warning sign being true, and send them."""
    sharp = SharpScreen(phone.page)
    for question, answer in (("where", "outer_elbow"), ("like", "catch"), ("sign", "yes")):
        sharp.answer(question, answer).tap()
    sharp.save.tap()
    expect(sharp.sign).to_be_visible()
    sharp.leave.tap()
    phone.send()

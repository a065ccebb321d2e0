"""Arriving: from the invitation, through the safety questions, to the first set; and what happens where a sign is true."""

import re

import pytest
from playwright.sync_api import expect

from e2e.arriving import IntakeScreen, ScreeningScreen, answer_questions, intake_screens
from e2e.phone_reading import EVENTS
from e2e.screens import DayScreen, JoinPage, SessionScreen
from e2e.test_accessible import faults
from tests.builders import release
from tests.cast import BELL_FOUNDER, BOOKBINDER, CELLIST
from webapp.dosing.release import Return
from webapp.events.kinds import LEVELS
from webapp.records import invitations
from webapp.records.database import open_records
from webapp.sync.case import screening as server_screening
from webapp.sync.case.hold import Grounds

MOST_TAPS = 8
ON_TOP = """button => {
  const { left, width, top, height } = button.getBoundingClientRect();
  return document.elementFromPoint(left + width / 2, top + height / 2) === button;
}"""
RING = re.compile("^Ring your local emergency number now")


def kinds(phone):
    return [entry["kind"] for entry in phone.page.evaluate(EVENTS)]


def bodies(phone, kind):
    return [entry["body"] for entry in phone.page.evaluate(EVENTS) if entry["kind"] == kind]


@pytest.fixture
def phone(one_phone):
    return one_phone


@pytest.fixture
def client(phone, practice):
    """A client of two arms whose phone has just joined."""
    enrolled = practice.enrol_unasked(BOOKBINDER)
    phone.join_by_link(enrolled.token)
    return enrolled


@pytest.fixture
def questions(phone, client):
    """The first page of the questions."""
    phone.day.begin_questions.tap()
    found = ScreeningScreen(phone.page)
    expect(found.page_of(LEVELS[0])).to_be_visible()
    return found


def test_with_nothing_to_tell_the_first_set_is_eight_taps_from_the_first_question_and_needs_no_network(
    phone, server, practice
):
    enrolled, page, taps = practice.enrol_unasked(BELL_FOUNDER), phone.page, []
    page.goto(f"/join#{enrolled.token}")
    JoinPage(page).accept.tap()
    phone.wait_until_kept()
    expect(phone.day.start).not_to_be_visible()
    server.kill()

    def tap(control):
        control.tap()
        taps.append(control)

    tap(phone.day.begin_questions)
    questions, session = ScreeningScreen(page), SessionScreen(page)
    for level in LEVELS:
        expect(questions.page_of(level)).to_be_visible()
        tap(questions.none)
    tap(phone.day.start)
    tap(session.try_sound)
    tap(session.heard)
    assert len(taps) == MOST_TAPS
    tap(session.main)
    expect(session.running).to_be_visible()
    [body] = bodies(phone, "screening_answered")
    assert (body["reached"], body["signs"]) == (LEVELS[-1], [])
    server.start()


@pytest.mark.long
@pytest.mark.parametrize("colours", ["none", "active"])
def test_once_a_sign_is_ticked_the_button_that_stops_lies_under_nothing(phone, questions, colours):
    phone.page.emulate_media(forced_colors=colours)
    phone.page.set_viewport_size({"width": 360, "height": 640})
    questions.sign("stroke").tap()
    assert not faults(phone.page)
    questions.stop.scroll_into_view_if_needed()
    assert questions.stop.evaluate(ON_TOP)


@pytest.mark.long
def test_on_the_page_of_the_warning_signs_the_button_that_stops_lies_under_nothing(phone, client):
    phone.page.goto(f"{phone.shell}#warnings")
    warnings = ScreeningScreen(phone.page)
    warnings.sign("stroke").tap()
    assert warnings.stop.first.evaluate(ON_TOP)


@pytest.mark.long
def test_an_emergency_sign_stops_both_arms_and_after_the_release_only_the_other_pages_are_asked(
    phone, server, practice, client, questions
):
    questions.sign("chest").tap()
    expect(questions.none).not_to_be_visible()
    questions.stop.tap()
    expect(questions.act).to_have_text(RING)
    expect(questions.reported).to_contain_text("When you have been seen")
    assert bodies(phone, "warning_raised") == [{"sign": "chest", "arms": ["right", "left"]}]
    questions.back.tap()
    expect(phone.day.stopped).to_be_visible()
    expect(phone.day.arriving).not_to_be_visible()
    phone.send()
    phone.sleep_until_the_servers_day()
    db = open_records(server.db_path)
    for arm in ("right", "left"):
        release(db, client.id, arm, Return(1, 2), phone.today)
    db.conn.close()
    phone.send()
    expect(phone.day.arriving).to_contain_text("The rest of the safety questions")
    phone.day.begin_questions.tap()
    for level in LEVELS[1:]:
        expect(questions.page_of(level)).to_be_visible()
        questions.none.tap()
    expect(phone.day.start.or_(phone.day.skip_report)).to_be_visible()


@pytest.mark.long
def test_a_sign_of_one_arm_asks_which_and_a_mistake_is_taken_back_before_the_page_is_left(phone, questions):
    questions.none.tap()
    questions.sign("open_wound").tap()
    questions.stop_for("left").tap()
    assert bodies(phone, "warning_raised") == [{"sign": "open_wound", "arms": ["left"]}]
    questions.take_back.tap()
    expect(questions.page_of(LEVELS[1])).to_be_visible()
    assert kinds(phone).count("entry_corrected") == 2
    expect(questions.sign("open_wound").locator("input")).not_to_be_checked()
    for _ in LEVELS[1:]:
        questions.none.tap()
    expect(phone.day.start).to_be_visible()
    assert set(phone.standing()) == {"right", "left"}
    assert {state["mode"] for state in phone.standing().values()} == {"training"}


@pytest.mark.long
def test_a_sign_to_ask_about_waits_for_the_practitioners_word_and_then_the_dose_comes(
    phone, server, practice, client, questions
):
    for _ in LEVELS[:-1]:
        questions.none.tap()
    questions.sign("heart").tap()
    questions.stop.tap()
    expect(questions.act).to_contain_text("Your start waits")
    questions.back.tap()
    expect(phone.day.arriving).to_contain_text("You have heart trouble.")
    expect(phone.day.start).not_to_be_visible()
    phone.page.goto(f"{phone.shell}#session")
    expect(phone.day.title).to_be_visible()
    phone.send()
    db = open_records(server.db_path)
    seal = server_screening.screening_of(db, client.id).seal
    grounds = Grounds("Asked.", "Hedda Marrow")
    server_screening.clear(db, client.id, seal, grounds, phone.today, now=phone.now)
    db.conn.close()
    phone.send()
    expect(phone.day.start).to_be_visible()


@pytest.mark.long
def test_the_page_before_and_a_closed_app_lose_nothing_that_was_said(phone, questions):
    questions.none.tap()
    questions.before.tap()
    expect(questions.page_of(LEVELS[0])).to_be_visible()
    expect(questions.before).not_to_be_visible()
    phone.page.reload()
    expect(questions.page_of(LEVELS[0])).to_be_visible()
    assert "screening_answered" not in kinds(phone)


@pytest.mark.long
def test_a_second_phone_of_the_client_is_not_asked_again(phone, browser, server, practice, client, evening):
    answer_questions(phone)
    phone.send()
    db = open_records(server.db_path)
    token = invitations.make_link(db, client.id, phone.now).token
    db.conn.close()
    phone.context.clear_cookies()
    page = phone.context.new_page()
    page.goto(f"/join#{token}")
    JoinPage(page).accept.tap()
    expect(DayScreen(page).start).to_be_visible()


@pytest.mark.long
def test_who_tells_the_intake_gets_no_dose_before_it_is_confirmed(phone, server, practice):
    enrolled = practice.enrol_by_name("Runa Feld")
    phone.join_by_link(enrolled.token)
    server.kill()
    answer_questions(phone)
    intake_screens(phone, lambda _page, _name: None)
    expect(phone.day.arriving).to_contain_text("are saved here")
    assert bodies(phone, "intake_told")[0]["activities"] == [{"name": "Bowing", "rating": 4}]
    expect(phone.day.start).not_to_be_visible()
    server.start()
    phone.send()
    expect(phone.day.arriving).to_contain_text("There are no exercises until then.")
    practice.confirm_intake(enrolled.id, CELLIST)
    phone.send()
    expect(phone.day.start).to_be_visible()
    expect(phone.day.arriving).not_to_be_visible()


@pytest.mark.long
def test_a_half_answered_intake_is_there_again_after_the_app_was_closed(phone, practice):
    phone.join_by_link(practice.enrol_by_name("Runa Feld").token)
    answer_questions(phone)
    phone.day.arriving.locator("a[href='#intake']").tap()
    intake = IntakeScreen(phone.page)
    intake.on.tap()
    expect(intake.fault).to_be_visible()
    intake.choice("arm", "both").tap()
    intake.choice("place", "wrist_back").tap()
    expect(intake.named).to_have_text("back of the wrist")
    intake.on.tap()
    expect(intake.page_of("mornings")).to_be_visible()
    phone.page.reload()
    expect(intake.page_of("mornings")).to_be_visible()
    intake.before.tap()
    expect(intake.choice("place", "wrist_back").locator("input")).to_be_checked()


@pytest.mark.long
def test_a_warning_sign_stops_before_the_intake_and_before_any_routine(phone, practice):
    phone.join_by_link(practice.enrol_by_name("Runa Feld").token)
    phone.day.begin_questions.tap()
    questions = ScreeningScreen(phone.page)
    questions.sign("chest").tap()
    questions.stop.tap()
    questions.back.tap()
    expect(phone.day.arriving).to_contain_text("A warning sign comes first")

"""The note to the client: pushed, read on the phone without a network, and its reading seen at the desk."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import RoutinePage
from e2e.screens import PhoneScreen
from e2e.test_accessible import faults
from tests.cast import BELL_FOUNDER

NOTE = "Slowly down, please. And put the heavy files away for a week."
ONLY_THE_NOTE = "Only the note"
CHOSEN_BY_HAND = "Your practitioner chose this step for you."


@pytest.mark.long
def test_a_pushed_note_is_read_without_a_network_and_its_reading_arrives(desk, server, practice, one_phone, joined):
    client = joined(one_phone, BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.change_routine.click()
    sheet = RoutinePage(hedda.page)
    sheet.note.fill(NOTE)
    sheet.look()
    expect(hedda.page.get_by_text(ONLY_THE_NOTE)).to_be_visible()
    assert not faults(hedda.page)
    sheet.push.click()
    expect(hedda.case.waiting).to_be_visible()

    one_phone.send()
    server.kill()
    one_phone.open()
    expect(one_phone.day.note).to_contain_text(NOTE)
    assert not faults(one_phone.page)
    one_phone.day.note_read.tap()
    expect(one_phone.day.note).to_be_hidden()
    one_phone.open()
    expect(one_phone.day.start).to_be_visible()
    expect(one_phone.day.note).to_be_hidden()
    PhoneScreen(one_phone.page).open()
    expect(PhoneScreen(one_phone.page).note).to_contain_text(NOTE)

    server.start()
    one_phone.send()
    readings = [event["body"] for event in practice.log(client.id) if event["kind"] == "note_read"]
    assert readings == [{"version": 2}]
    hedda.open_case(BELL_FOUNDER.name)
    expect(hedda.case.note_read).to_contain_text("note read on")
    assert not faults(hedda.page)


def test_a_note_stands_above_what_to_do_until_it_is_read(desk, joined, phone):
    joined(phone, BELL_FOUNDER)
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.change_routine.click()
    sheet = RoutinePage(hedda.page)
    sheet.note.fill(NOTE)
    sheet.look()
    sheet.push.click()
    phone.send()
    expect(phone.day.note).to_be_visible()
    note, session = phone.day.note.bounding_box(), phone.day.session_title.bounding_box()
    assert note
    assert session
    assert note["y"] < session["y"]
    phone.day.note_read.tap()
    expect(phone.day.note).to_be_hidden()
    expect(phone.day.title).to_be_focused()


@pytest.mark.long
def test_a_rung_given_by_hand_asks_for_a_tick_and_the_client_reads_who_chose_it(desk, joined, one_phone):
    joined(one_phone, BELL_FOUNDER)
    one_phone.do_session(worst=1)
    one_phone.send()
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    hedda.case.change_routine.click()
    sheet = RoutinePage(hedda.page)
    sheet.start_rung.fill("8")
    sheet.note.fill("You lifted more before.")
    sheet.look()
    assert not faults(hedda.page)
    sheet.push.click()
    expect(sheet.refused).to_contain_text("Nothing was pushed")
    sheet.rise_taken_on.check()
    sheet.push.click()
    expect(hedda.case.waiting).to_be_visible()

    one_phone.sleep_until_morning()
    one_phone.send()
    one_phone.report_morning(1)
    expect(one_phone.day.why).to_contain_text(CHOSEN_BY_HAND)
    expect(one_phone.day.loads.first).to_have_text("1 lb")
    chosen_on = f"{one_phone.today:%A} {one_phone.today.day} {one_phone.today:%B}"
    one_phone.do_session(worst=1)
    one_phone.sleep_until_morning()
    one_phone.report_morning(1)
    expect(one_phone.day.why).to_contain_text(f"Last change, {chosen_on}: {CHOSEN_BY_HAND}")

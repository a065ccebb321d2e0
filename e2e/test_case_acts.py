"""The acts of the case page: a hold released in four clicks, and a rest that reaches the phone and ends by itself."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage
from e2e.server import servers_day
from e2e.test_accessible import faults, is_wider_than_the_screen
from tests.builders import event, session
from tests.cast import BELL_FOUNDER

COUNT_PRESSES = """document.addEventListener("pointerdown", () => {
  sessionStorage.setItem("presses", String(Number(sessionStorage.getItem("presses") ?? 0) + 1));
}, true)"""
PRESSES = 'Number(sessionStorage.getItem("presses"))'
CHOICES_FROM_A_LIST = 1
REASON = "You have a fever. Rest, and tell me how the arm is."


@pytest.fixture
def phone(one_phone, joined):
    """A phone that has been joined, on the server's day."""
    one_phone.client = joined(one_phone, BELL_FOUNDER)
    one_phone.sleep_until_the_servers_day()
    return one_phone


def test_a_rest_until_a_day_reaches_the_phone_and_ends_by_itself(desk, phone, server):
    day = phone.day
    hedda = Desk.signed_in(desk)
    hedda.open_case(BELL_FOUNDER.name)
    rest = hedda.case.act("Rest until a day")
    rest.summary.click()
    rest.press.click()
    expect(hedda.case.acts.get_by_role("alert")).to_be_focused()
    expect(hedda.case.acts.get_by_role("alert")).to_be_in_viewport()
    rest.until.fill((phone.today + timedelta(days=2)).isoformat())
    rest.reason.fill(REASON)
    rest.press.click()
    expect(hedda.page.get_by_text("Rests until").first).to_be_visible()

    phone.send()
    phone.open()
    expect(day.finishing).to_contain_text("Rest until")
    expect(day.finishing).to_contain_text(REASON)
    expect(day.start).to_be_hidden()
    server.kill()
    phone.sleep_until_morning()
    expect(day.finishing).to_contain_text("Rest until")
    expect(day.start).to_be_hidden()
    phone.sleep_until_morning()
    expect(day.finishing).to_contain_text("Your training goes on")
    expect(day.session).to_be_visible()


def test_a_hold_is_released_with_its_reason_in_four_clicks_from_the_caseload(desk, practice):
    client, yesterday = practice.enrol(BELL_FOUNDER).id, servers_day() - timedelta(days=1)
    practice.send(
        client,
        event("routine_received", yesterday - timedelta(days=3), {"version": 1, "bundle": ""}, seq=1),
        session(yesterday, 9, sharp=True, seq=2),
    )
    hedda = Desk.signed_in(desk)
    hedda.page.add_init_script(COUNT_PRESSES)
    hedda.page.reload()
    CaseloadPage(hedda.page).case(BELL_FOUNDER.name).click()
    assert not faults(hedda.page)
    hedda.case.release_choice.select_option(index=1)
    hedda.case.release_reason.fill("We spoke. No catch since Friday, strength is back.")
    hedda.case.release_talked.click()
    hedda.case.release.click()
    expect(hedda.case.released.first).to_contain_text("We spoke. No catch since Friday")
    assert hedda.page.evaluate(PRESSES) + CHOICES_FROM_A_LIST == 4
    assert not faults(hedda.page)
    hedda.page.set_viewport_size({"width": 360, "height": 800})
    hedda.page.evaluate("for (const folded of document.querySelectorAll('details')) folded.open = true")
    assert not is_wider_than_the_screen(hedda.page)
    hedda.page.emulate_media(media="print")
    expect(hedda.page.locator("#notes")).to_be_hidden()
    expect(hedda.page.locator("#plots")).to_be_visible()

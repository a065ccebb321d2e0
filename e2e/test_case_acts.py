"""The acts of the case page: a hold released in four clicks, and a rest that reaches the phone and ends by itself."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from tests.cast import BELL_FOUNDER

CLICKS = """() => {
  globalThis.clicked = Number(sessionStorage.getItem("clicks") ?? 0);
  document.addEventListener("click", ({ detail, target }) => {
    if (detail > 0 && !target.closest("label input")) sessionStorage.setItem("clicks", String(++globalThis.clicked));
  });
}"""
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

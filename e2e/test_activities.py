"""The client's own activities: written down at the desk, asked about on the phone, shown in the weeks and on the case page."""

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.past_pages import ActivityPart, WeeksScreen
from e2e.test_accessible import faults
from e2e.test_weeks import MORNINGS, PUT, past_of
from tests.cast import BELL_FOUNDER

KETTLE = "Lifting the full kettle"


@pytest.mark.long
def test_an_activity_is_asked_about_once_a_week_and_can_be_put_off(one_phone, joined, desk):
    client = joined(one_phone, BELL_FOUNDER)
    page = Desk.signed_in(desk).page
    page.goto(f"/practice/cases/{client.public_id}")
    page.get_by_text("Name the activities").click()
    page.get_by_label("First activity").fill(KETTLE)
    page.get_by_role("button", name="Save the activities").click()
    phone, part = one_phone, ActivityPart(one_phone.page)
    phone.page.evaluate(PUT, past_of(phone.today, MORNINGS[:4]))
    phone.send()
    expect(part.name).to_have_text(KETTLE)
    part.save.tap()
    expect(part.fault).to_be_visible()
    assert faults(phone.page) == {}
    part.put_off.tap()
    expect(part.whole).to_be_hidden()
    for _ in range(7):
        phone.sleep_until_morning()
    expect(part.name).to_have_text(KETTLE)
    part.choice.select_option("6")
    part.save.tap()
    expect(part.whole).to_be_hidden()
    weeks = WeeksScreen(phone.page)
    weeks.way.tap()
    expect(weeks.activity).to_contain_text(KETTLE)
    expect(weeks.activity.locator("svg")).to_contain_text("6")
    phone.send()
    page.reload()
    expect(page.locator("#activities")).to_contain_text(": 6")

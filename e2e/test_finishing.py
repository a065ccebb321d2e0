"""Finishing: the practitioner sets maintenance, then the end, then training again, and every phone of the client shows the same."""

from datetime import timedelta

import pytest
from playwright.sync_api import expect

from tests.cast import BELL_FOUNDER

REASON = "Two days a week keep what you have."


@pytest.fixture
def phone(one_phone, joined):
    """A phone that has been joined in the evening."""
    one_phone.client = joined(one_phone, BELL_FOUNDER)
    return one_phone


@pytest.mark.long
def test_maintenance_leaves_days_free_and_a_session_can_be_done_all_the_same(phone, practice, server):
    day, client = phone.day, phone.client.id
    practice.set_course(client, "maintenance", phone.today, REASON, days_a_week=2)
    phone.send()
    phone.open()
    expect(day.finishing).to_contain_text("Maintenance: 2 days a week")
    expect(day.finishing).to_contain_text("Done in the last seven days: 0. Asked for: 2.")
    server.kill()
    phone.do_session(1)
    for _ in range(2):
        phone.sleep_until_morning()
        phone.report_morning(1)
        phone.open()
        if day.start.is_visible():
            phone.do_session(1)
    expect(day.finishing).to_contain_text("Done in the last seven days: 2.")
    expect(day.session.get_by_text("Free today", exact=True)).to_be_visible()
    expect(day.start).to_be_hidden()

    phone.sleep_until_morning()
    expect(day.morning).to_be_hidden()
    expect(day.all_the_same).to_be_visible()
    day.all_the_same.tap()
    expect(phone.page.locator("body[data-screen=session]")).to_be_attached()


@pytest.mark.long
def test_the_end_leaves_no_start_until_training_is_set_again(phone, practice):
    day, client = phone.day, phone.client.id
    practice.set_course(client, "ended", phone.today, "Well done.")
    phone.send()
    phone.open()
    expect(day.finishing).to_contain_text("This part is finished")
    expect(day.finishing).to_contain_text("Well done.")
    expect(day.start).to_be_hidden()
    expect(day.session).to_be_hidden()
    phone.page.goto(f"{phone.shell}#session")
    expect(day.finishing).to_contain_text("It may come back.")

    practice.set_course(client, "training", phone.today + timedelta(days=1), "From tomorrow again.")
    phone.send()
    phone.open()
    expect(day.finishing).to_contain_text("This part is finished")
    phone.sleep_until_morning()
    expect(day.finishing).to_contain_text("Your training goes on")
    expect(day.morning).to_be_visible()

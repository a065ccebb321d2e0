"""Finishing: the practitioner sets maintenance, then the end, then training again, and every phone of the client shows the same."""

import re
from datetime import timedelta

import pytest
from playwright.sync_api import expect

from e2e.past_pages import ClosingScreen
from tests.cast import BELL_FOUNDER

REASON = "Two days a week keep what you have."


@pytest.fixture
def phone(one_phone, joined):
    """A phone that has been joined in the evening."""
    one_phone.client = joined(one_phone, BELL_FOUNDER)
    return one_phone


def test_the_end_offers_a_summary_that_is_made_offline_and_printed_on_one_sheet(phone, practice, server):
    day, closing = phone.day, ClosingScreen(phone.page)
    phone.do_session(worst=1)
    again = phone.today + timedelta(days=30)
    practice.set_course(phone.client.id, "ended", phone.today, "Well done.", seen_again_on=again)
    phone.send()
    phone.open()
    expect(day.session).to_be_hidden()
    server.kill()
    closing.way.tap()
    expect(closing.whole).to_be_visible()
    for text in ("1 session done, on 1 day.", "Well done.", "To be seen again on", "Too few mornings", "Hedda Marrow"):
        expect(closing.whole).to_contain_text(text)
    with phone.page.expect_download() as download:
        closing.save.tap()
    kept = download.value.path().read_text(encoding="utf-8")
    assert "Well done." in kept
    assert "http" not in kept.replace("http://www.w3.org/1999/xhtml", "")
    # One page object of a PDF (ISO 32000-2, 7.7.3.3) is one sheet.
    assert len(re.findall(rb"/Type\s*/Page\b", phone.page.pdf(prefer_css_page_size=True))) == 1


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

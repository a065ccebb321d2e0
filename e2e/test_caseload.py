"""Who needs the practitioner is seen without a click, and a flare with one; by keyboard, and at each width."""

import json
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage
from e2e.test_accessible import faults, is_wider_than_the_screen
from tests.builders import days_of, event
from tests.cast import BELL_FOUNDER, BOOKBINDER
from webapp.records.database import open_records
from webapp.sync.log.local_day import local_day
from webapp.sync.log.take import take_batch

FLARED = [(7, 2) if number in (3, 6) else (1, 1) for number in range(7)]
CALM = [(1, 1)] * 7
WHY = "Flared twice in seven days"


@pytest.fixture
def trained(practice):
    """The bookbinder after a calm week, and the bell founder after a week with two flares."""
    now = datetime.now(UTC)
    first = local_day(now, "Europe/Lisbon") - timedelta(days=7)
    db = open_records(practice.server.db_path)
    for sufferer, ratings in ((BOOKBINDER, CALM), (BELL_FOUNDER, FLARED)):
        client = practice.enrol(sufferer)
        receipt = event("routine_received", first, {"version": 1, "bundle": ""}, seq=900)
        entries = [receipt, *days_of(first, ratings, arms=sufferer.arms)]
        take_batch(db, client.id, "a phone", [json.dumps(each).encode() for each in entries], now)
    db.conn.close()


def test_who_flared_is_seen_without_a_click_and_why_with_one(desk, trained):
    hedda = Desk.signed_in(desk)
    caseload = CaseloadPage(hedda.page)
    expect(caseload.of_group("needs")).to_have_text([BELL_FOUNDER.name])
    expect(caseload.lines.first).to_contain_text(WHY)
    assert not faults(hedda.page)
    expect(hedda.page.get_by_text("Enter opens")).to_be_visible()
    caseload.lines.first.locator("h3 a").focus()
    hedda.page.keyboard.press("ArrowDown")
    expect(caseload.lines.nth(1).locator("h3 a")).to_be_focused()
    hedda.page.keyboard.press("ArrowDown")
    hedda.page.keyboard.press("ArrowUp")
    expect(caseload.lines.first.locator("h3 a")).to_be_focused()
    caseload.step(BELL_FOUNDER.name).click()
    expect(hedda.page.locator("#plots")).to_be_in_viewport()


@pytest.mark.long
@pytest.mark.parametrize("width", [360, 768, 1440])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_caseload_is_searched_by_keyboard_at_each_width_and_typing_stays_typing(
    browser, server, trained, width, scheme
):
    size = {"width": width, "height": 800}
    context = browser.new_context(viewport=size, color_scheme=scheme, locale="en-GB", base_url=server.origin)
    page = Desk.signed_in(context).page
    assert not is_wider_than_the_screen(page)
    assert not faults(page)
    page.get_by_role("link", name="Jump to the search").focus()
    page.keyboard.press("Enter")
    page.keyboard.type("ansgar")
    page.keyboard.press("ArrowDown")
    expect(page.locator("#find-name")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator(".case-line h3")).to_have_text([BELL_FOUNDER.name])
    context.close()

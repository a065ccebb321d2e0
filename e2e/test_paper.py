"""Paper for a client without a phone: the sheet goes out, and a week of its diary is typed in by keyboard alone."""

import re
from collections.abc import Iterator
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page, expect

from e2e.desk import Desk
from e2e.practice import Practice
from e2e.server import Server
from tests.cast import BELL_FOUNDER, BOOKBINDER
from webapp.records import routines
from webapp.records.database import open_records
from webapp.sync.folding.fold import accounts_of
from webapp.sync.from_paper import handing_out

MOST_KEYS = 60
PAGE = re.compile(rb"/Type\s*/Page\b")
LONG_NAME = "Mirela Wilhelmina Quistorp-Albuquerque y Santacruz"
WEEK = [("1", "2"), ("2", "2"), ("1", "3"), ("2", "1"), ("1", "2"), ("1", "1"), ("1", "")]


@pytest.fixture
def desk(browser: Browser, server: Server, practice: Practice) -> Iterator[Desk]:
    """Hedda at her desk, 1280 wide."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, base_url=server.origin)
    yield Desk.signed_in(context)
    context.close()


def test_a_sheet_goes_out_and_its_week_comes_back_in_under_sixty_keys(
    desk: Desk, practice: Practice, server: Server, evening: datetime
) -> None:
    client = practice.enrol(BELL_FOUNDER)
    page, path = desk.page, f"/practice/cases/{client.public_id}"
    # A day more back: a day begins at 03:00, so before that the seventh day would still be to come.
    first = evening.date() - timedelta(days=1)
    page.goto(f"{path}/sheet?paper=letter")
    expect(page.locator(".sheet-picture svg")).to_have_count(6)
    page.get_by_label("From which day it counts").fill(first.isoformat())
    page.get_by_role("button", name="It is handed out").click()
    expect(page.get_by_text("It is handed out and counts from")).to_be_visible()
    for paper in ("a4", "letter"):
        page.goto(f"{path}/sheet?paper={paper}")
        assert _pages(page) == 2

    page.goto(f"{path}/diary?from={first.isoformat()}")
    entries = page.locator(".diary-week input")
    days = entries.count() // 5
    keys = 0
    entries.first.focus()
    for number, (morning, worst) in enumerate(WEEK[:days]):
        pressed = [*morning, "Tab", *worst] + (["Tab"] * 4 if number < days - 1 else [])
        for key in pressed:
            page.keyboard.press(key)
        keys += len(pressed)
    page.keyboard.press("Enter")
    expect(page.get_by_text("on is on record")).to_be_visible()
    assert days == 7
    assert keys + 1 < MOST_KEYS
    db = open_records(server.db_path)
    account = accounts_of(db, client.id, first + timedelta(days=6))["right"]
    db.conn.close()
    assert [each.response for each in account.days] == ["settled"] * 6
    page.goto(f"{path}/summary")
    assert _pages(page) == 1


@pytest.mark.long
def test_a_sheet_of_two_arms_and_two_weeks_in_spanish_has_a_page_an_arm_and_one_of_signs(
    desk: Desk, practice: Practice, server: Server, evening: datetime
) -> None:
    client = practice.enrol(BOOKBINDER)
    db = open_records(server.db_path)
    handing_out.hand_out(db, client.id, 1, evening.date() - timedelta(days=8), asked_signs=True, now=evening)
    with db.conn:
        db.execute("UPDATE clients SET locale = 'es', name = ? WHERE id = ?", (LONG_NAME, client.id))
    for paper in ("a4", "letter"):
        desk.page.goto(f"/practice/cases/{client.public_id}/sheet?paper={paper}&sheet_weeks=2")
        expect(desk.page.locator(".sheet-grid.is-double")).to_have_count(2)
        assert _pages(desk.page) == 3
    version = routines.latest(db, client.id)
    longer = {**version.routine, "stretches": ["stretch_palm_down", "stretch_palm_up", "stretch_palm_up_soft"]}
    routines.push(db, client.id, longer, version.settings, "", 1, evening)
    db.conn.close()
    desk.page.goto(f"/practice/cases/{client.public_id}/sheet")
    expect(desk.page.locator(".sheet-picture")).to_have_count(14)
    assert _pages(desk.page) == 5


def _pages(page: Page) -> int:
    return len(PAGE.findall(page.pdf(prefer_css_page_size=True)))

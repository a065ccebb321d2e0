"""A session by the keyboard alone, and what a screen reader is given of it."""

import re

import pytest
from playwright.sync_api import expect

from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER

MOST_TABS = 30
FOCUSED = "document.activeElement?.getAttribute('data-act') ?? document.activeElement?.getAttribute('data-why') ?? document.activeElement?.name ?? ''"


@pytest.fixture
def phone(one_phone, practice):
    one_phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    return one_phone


def tab_to(page, wanted):
    """Go on by the tabulator until the control of that name has the focus, as one must who has no pointer."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED) == wanted:
            return
    raise AssertionError(f"{MOST_TABS} tabs never came to {wanted}")


def start_by_keys(phone):
    page, session = phone.page, SessionScreen(phone.page)
    tab_to(page, "start")
    page.keyboard.press("Enter")
    expect(session.main).to_be_visible()
    if not session.running.is_visible():
        tab_to(page, "main")
        page.keyboard.press("Enter")
    expect(session.running).to_be_visible()
    return session


def test_a_session_is_paused_skipped_and_stopped_by_keys_and_rated(phone):
    page = phone.page
    session = start_by_keys(phone)
    phone.play(5)
    tab_to(page, "main")
    page.keyboard.press("Space")
    expect(session.paused).to_be_visible()
    page.keyboard.press("Enter")
    phone.play(7)
    expect(session.running).to_be_visible()
    first = session.title.inner_text()
    tab_to(page, "skip")
    page.keyboard.press("Enter")
    phone.play(2)
    expect(session.title).not_to_have_text(first)
    tab_to(page, "stop")
    page.keyboard.press("Enter")
    expect(session.why("tired")).to_be_visible()
    tab_to(page, "tired")
    page.keyboard.press("Enter")
    expect(AfterScreen(page).title).to_be_visible()


def test_the_rating_is_given_and_saved_by_keys(phone):
    page = phone.page
    start_by_keys(phone)
    phone.play_to_the_end()
    tab_to(page, "worst-right")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    chosen = page.locator("#page input[name=worst-right]:checked")
    expect(chosen).to_have_value("2")
    page.keyboard.press("Enter")
    expect(phone.day.title).to_be_visible()
    assert "session_finished" in phone.log()["kinds"]


def test_sharp_pain_stops_the_session_by_one_key_press(phone):
    session = start_by_keys(phone)
    phone.play(60)
    tab_to(phone.page, "sharp")
    phone.page.keyboard.press("Enter")
    expect(session.running).to_have_count(0)
    expect(phone.page.get_by_role("heading", level=1)).to_be_visible()


def test_the_session_reads_well(phone):
    session = start_by_keys(phone)
    page = phone.page
    phone.play(20)
    expect(session.title).to_have_text("Open and close the fingers")
    read = page.locator("#page").aria_snapshot()
    assert re.search(r'heading "Open and close the fingers" \[level=1\]', read)
    assert re.search(r"- timer:", read)
    for name in ("Pause", "Back", "Skip", "Stop", "Sharp pain"):
        assert f'button "{name}"' in read
    expect(session.picture).to_have_attribute("aria-hidden", "true")
    # One polite place says the step when it comes; the count itself is never read out second by second.
    said = [told for told in page.get_by_role("status").all_inner_texts() if told]
    assert any("Open and close the fingers" in told for told in said)
    assert page.locator("#page [aria-live]:not([aria-live=off])").count() == 0

"""Every screen of a session for everybody: by keyboard alone, in the dark, in large type, in forced colours, by big fingers."""

import pytest
from playwright.sync_api import expect

from e2e.conftest import WAIT_MILLISECONDS, phone_options
from e2e.phone import Phone
from e2e.screens import AfterScreen, SessionScreen, SharpScreen
from e2e.test_accessible import FINGER_IN_A_SESSION, faults, is_wider_than_the_screen, too_small
from tests.cast import BOOKBINDER

TO_THE_FIRST_SET = 112
SIGHTS = {
    "light": {"color_scheme": "light"},
    "dark": {"color_scheme": "dark"},
    "forced colours": {"forced_colors": "active"},
    "large type": {"color_scheme": "light"},
}
LARGE_TYPE = "addEventListener('DOMContentLoaded', () => { document.documentElement.style.fontSize = '200%'; });"
MOST_TABS = 60
FOCUSED = (
    "document.activeElement.dataset.act ?? document.activeElement.dataset.why ?? document.activeElement.name ?? ''"
)


@pytest.fixture(params=SIGHTS)
def phone(request, browser, server, evening, practice):
    options = {**phone_options(360, 640), **SIGHTS[request.param]}
    context = browser.new_context(**options, base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    if request.param == "large type":
        context.add_init_script(LARGE_TYPE)
    phone = Phone.switched_on(context, evening)
    phone.join_by_link(practice.enrol(BOOKBINDER).token)
    yield phone
    context.close()


def check(phone, name):
    """Nothing for axe to find, nothing too small to hit, nothing beside the screen."""
    page = phone.page
    assert faults(page) == {}, name
    assert too_small(page.locator("#page .session :is(button, summary, label)"), FINGER_IN_A_SESSION) == [], name
    assert not is_wider_than_the_screen(page), name


def test_every_screen_of_a_session_is_sound(phone):
    session = phone.open_session()
    check(phone, "before the start")
    session.ways.tap()
    check(phone, "the ways to do it")
    session.way("pace", "own").tap()
    session.main.tap()
    phone.play(12)
    expect(session.rep).to_be_visible()
    check(phone, "at one's own pace")
    session.main.tap()
    check(phone, "paused")
    session.ease_off.tap()
    check(phone, "easing off")
    session.easing("leave").tap()
    phone.play(8)
    session.stop.tap()
    check(phone, "stopping")
    session.why("other").tap()
    expect(AfterScreen(phone.page).outlook.first).to_be_visible()
    assert faults(phone.page) == {}
    assert not is_wider_than_the_screen(phone.page)


def test_the_stop_for_sharp_pain_is_sound(phone):
    phone.open_session().main.tap()
    phone.play(TO_THE_FIRST_SET)
    check(phone, "in a set")
    SessionScreen(phone.page).sharp.tap()
    expect(SharpScreen(phone.page).save).to_be_visible()
    assert faults(phone.page) == {}
    assert not is_wider_than_the_screen(phone.page)


def tab_to(page, wanted):
    """Go on by the tabulator key until a control has the focus, and see that the focus can be seen."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED) == wanted:
            assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
            return
    raise AssertionError(f"{MOST_TABS} tabs did not lead to {wanted}")


def test_a_whole_session_is_done_by_keyboard_alone(one_phone, practice):
    phone, page = one_phone, one_phone.page
    phone.join_by_link(practice.enrol(BOOKBINDER).token)
    phone.open_session()
    session = SessionScreen(page)
    tab_to(page, "main")
    page.keyboard.press("Enter")
    expect(session.running).to_be_visible()
    phone.play(20)
    page.keyboard.press("Space")
    expect(session.paused).to_be_visible()
    page.keyboard.press("Space")
    phone.play(8)
    expect(session.running).to_be_visible()
    tab_to(page, "ease")
    page.keyboard.press("Enter")
    expect(session.easing("form")).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    phone.play_to_the_end()
    for arm in ("right", "left"):
        page.locator(f"input[name=worst-{arm}]").first.focus()
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(phone.day.title).to_be_visible()
    assert "session_finished" in phone.log()["kinds"]

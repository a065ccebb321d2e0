"""Every face of the session screen in every look: light, dark, text twice as large, forced colours."""

import pytest
from playwright.sync_api import expect

from e2e.screens import DayScreen, SessionScreen, SharpScreen
from e2e.test_accessible import FINGER_IN_A_SESSION, faults, is_wider_than_the_screen, too_small
from tests.cast import BELL_FOUNDER

LOOKS = (
    ("light", {"color_scheme": "light"}, "100%"),
    ("dark", {"color_scheme": "dark"}, "100%"),
    ("light, text twice as large", {"color_scheme": "light"}, "212.5%"),
    ("forced colours", {"forced_colors": "active"}, "100%"),
)
PLAIN = {"color_scheme": "light", "forced_colors": "none"}
TEXT = "size => { document.documentElement.style.fontSize = size === '100%' ? '' : size; }"


def seen(page, face):
    """What is wrong with a face of the session in any look: (look, what)."""
    wrong = []
    for look, media, text in LOOKS:
        page.emulate_media(**{**PLAIN, **media})
        page.evaluate(TEXT, text)
        wrong += [(face, look, found) for found in faults(page).items()]
        if is_wider_than_the_screen(page):
            wrong.append((face, look, "wider than the screen"))
        small = too_small(page.locator("#page .session button:visible"), FINGER_IN_A_SESSION)
        wrong += [(face, look, found) for found in small]
    page.emulate_media(**PLAIN)
    page.evaluate(TEXT, "100%")
    return wrong


@pytest.fixture
def phone(one_phone, practice):
    one_phone.page.set_viewport_size({"width": 360, "height": 640})
    one_phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    return one_phone


def test_every_face_of_the_session_is_sound_in_every_look(phone):
    page, session = phone.page, SessionScreen(phone.page)
    DayScreen(page).start.tap()
    expect(session.ready).to_be_visible()
    wrong = seen(page, "ready")
    session.main.tap()
    expect(session.running).to_be_visible()
    phone.play(14)
    wrong += seen(page, "a movement")
    session.main.tap()
    expect(session.paused).to_be_visible()
    wrong += seen(page, "paused")
    session.stop.tap()
    expect(session.why("tired")).to_be_visible()
    wrong += seen(page, "asked why")
    assert not wrong


def test_the_page_after_sharp_pain_is_sound_in_every_look(phone):
    page = phone.page
    phone.begin_session()
    phone.play(14)
    SessionScreen(page).sharp.tap()
    expect(SharpScreen(page).leave).to_be_visible()
    wrong = []
    for look, media, text in LOOKS:
        page.emulate_media(**{**PLAIN, **media})
        page.evaluate(TEXT, text)
        wrong += [(look, found) for found in faults(page).items()]
    assert not wrong

"""A whole session by the keyboard alone: nothing needs a pointer, the focus is never lost and always seen."""

from dataclasses import replace

import pytest
from playwright.sync_api import expect

from e2e.phone import ALL_SENT
from e2e.phone_reading import RUN
from e2e.screens import AfterScreen, PhoneScreen, SessionScreen, SharpScreen
from tests.cast import BELL_FOUNDER

MOST_TABS = 60
LEAD_IN = 7
TO_THE_FIRST_GATE = 12
HEAVY_RUNG = 12
FOCUSED = """() => {
  const { dataset, name, tagName, hash } = document.activeElement;
  return dataset.act ?? dataset.ease ?? dataset.why ?? (name || hash || tagName);
}"""
IS_FOCUSED = "document.activeElement !== document.body && document.activeElement.getClientRects().length > 0"
# Whether anything about the control that has the focus, or about its label, is drawn otherwise than without it.
IS_FOCUS_SEEN = """() => {
  const one = document.activeElement;
  const around = [one, one.nextElementSibling, one.closest('label')].filter(Boolean);
  const seen = around.map((part) => getComputedStyle(part)).filter(({ opacity }) => opacity !== '0');
  const drawn = () => seen.map((is) => [is.outlineStyle, is.outlineWidth, is.outlineColor].join(' ')).join();
  const focused = drawn();
  one.blur();
  const plain = drawn();
  one.focus();
  return focused !== plain;
}"""


@pytest.fixture
def phone(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    return one_phone


def tab_to(page, wanted):
    """Go on by the tabulator until the control of that name has the focus, as one must who has no pointer, and is seen to have it."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if page.evaluate(FOCUSED) == wanted:
            assert page.evaluate(IS_FOCUS_SEEN), wanted
            return
    raise AssertionError(f"{MOST_TABS} tabs never came to {wanted}")


def press(page, wanted, key="Enter"):
    """Go to a control and press it; the focus is not lost by that."""
    tab_to(page, wanted)
    page.keyboard.press(key)
    assert_focused(page, wanted)


def assert_focused(page, after):
    """Something that is to be seen has the focus: a browser takes it from what is hidden a moment later."""
    assert page.evaluate(IS_FOCUSED), after


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


def test_sharp_pain_stops_the_session_by_one_key_press_and_is_told_by_keys(phone):
    page, session = phone.page, start_by_keys(phone)
    phone.play(60)
    press(page, "sharp")
    expect(session.running).to_have_count(0)
    expect(SharpScreen(page).save).to_be_visible()
    for question in ("where", "like", "sign"):
        press(page, question, "Space")
    page.keyboard.press("Enter")
    expect(SharpScreen(page).save).to_be_hidden()
    assert_focused(page, "the three answers")
    press(page, "leave")
    expect(phone.day.stopped).to_be_visible()
    assert_focused(page, "leave")
    assert phone.log()["kinds"][-1] == "entry_corrected"


@pytest.mark.long
def test_ways_pace_easings_rating_and_sending_are_done_by_keys(one_phone, practice, joined):
    phone, page, session = one_phone, one_phone.page, SessionScreen(one_phone.page)
    joined(phone, replace(BELL_FOUNDER, start_rung=HEAVY_RUNG))
    choose_own_pace(phone, session)
    count_by_space(phone, session)
    skip_and_go_back(phone, session)
    bring_the_sound_back(phone, session)
    for lever in ("form", "range", "load", "reps", "leave"):
        press(page, "ease")
        press(page, lever)
        phone.play(LEAD_IN)
        assert_focused(page, lever)
    assert [easing["what"] for easing in page.evaluate(RUN)["eased"]] == ["form", "range", "load", "reps", "leave"]
    press(page, "stop")
    press(page, "stay")
    press(page, "stop")
    press(page, "tired")
    rate_by_keys(page)
    expect(phone.day.title).to_be_visible()
    assert_focused(page, "the session saved")
    press(page, "#settings")
    press(page, "#about")
    expect(PhoneScreen(page).send).to_be_visible()
    press(page, "send")
    expect(PhoneScreen(page).waiting).to_have_text(ALL_SENT)
    assert_focused(page, "send")
    assert "session_finished" in [event["kind"] for event in practice.log(1)]


def choose_own_pace(phone, session):
    """From the day page through the ways into a session at one's own pace."""
    page = phone.page
    expect(phone.day.start).to_be_visible()
    press(page, "ways")
    expect(session.ready).to_be_visible()
    press(page, "sample")
    press(page, "heard")
    expect(session.heard).to_be_hidden()
    assert_focused(page, "heard")
    press(page, "SUMMARY")
    tab_to(page, "part")
    tab_to(page, "pace")
    page.keyboard.press("ArrowDown")
    expect(session.way("pace", "own").locator("input")).to_be_checked()
    press(page, "main")
    expect(session.running).to_be_visible()


def count_by_space(phone, session):
    """One rep by the space bar alone, the rest of the warm-up by the button for it, which then goes without taking the focus along."""
    page = phone.page
    phone.play(TO_THE_FIRST_GATE)
    expect(session.numeral).to_have_text("1")
    page.keyboard.press("Space")
    expect(session.numeral).to_have_text("2")
    warm_ups = [step for step in page.evaluate(RUN)["plan"]["steps"] if step["kind"] == "warm_up"]
    press(page, "rep")
    expect(session.numeral).to_have_text("3")
    for _ in range(sum(step["reps"] for step in warm_ups) - 2):
        page.keyboard.press("Enter")
    expect(session.rep).to_be_hidden()
    assert_focused(page, "the last rep")


def skip_and_go_back(phone, session):
    """Pause, skip to the first set, go back from it and skip to it again, and go on."""
    page = phone.page
    press(page, "main")
    expect(session.paused).to_be_visible()
    run = page.evaluate(RUN)
    steps, now = run["plan"]["steps"], run["step"]
    first_set = [step["kind"] for step in steps].index("reps")
    press(page, "skip")
    for _ in range(first_set - now - 1):
        page.keyboard.press("Enter")
    expect(session.title).to_have_text(steps[first_set]["name"])
    press(page, "back")
    expect(session.title).to_have_text(steps[first_set - 1]["name"])
    press(page, "skip")
    expect(session.title).to_have_text(steps[first_set]["name"])
    press(page, "main")
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()
    assert_focused(page, "main")


def hold(page, key):
    """Keep a key down so long that it repeats."""
    for _ in range(4):
        page.keyboard.down(key)
    page.keyboard.up(key)


def test_a_key_held_down_counts_one_rep_and_pauses_once(phone):
    page, session = phone.page, SessionScreen(phone.page)
    choose_own_pace(phone, session)
    phone.stand_still()
    session.title.focus()
    hold(page, "Space")
    expect(session.paused).to_be_visible()
    hold(page, "Space")
    phone.play(LEAD_IN + TO_THE_FIRST_GATE)
    expect(session.numeral).to_have_text("1")
    hold(page, "Space")
    expect(session.numeral).to_have_text("2")
    tab_to(page, "rep")
    hold(page, "Enter")
    expect(session.numeral).to_have_text("3")


def bring_the_sound_back(phone, session):
    """The button for it goes once the sound is there, and leaves the focus on the page."""
    phone.page.evaluate("soundsOfThisPage.at(-1).interrupt()")
    phone.play(3)
    press(phone.page, "sound")
    phone.play(3)
    expect(session.soundless).to_be_hidden()
    assert_focused(phone.page, "sound")


def rate_by_keys(page):
    """Walk through all eleven numbers, and save at the last."""
    expect(AfterScreen(page).title).to_be_visible()
    assert_focused(page, "the session ended")
    press(page, "worst-right", "Space")
    for number in range(1, 11):
        page.keyboard.press("ArrowRight")
        expect(page.locator("#page input[name=worst-right]:checked")).to_have_value(str(number))
        assert page.evaluate(IS_FOCUS_SEEN), number
    page.keyboard.press("Enter")

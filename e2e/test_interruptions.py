"""What may come between a client and a session: a hidden page, a frozen one, a killed browser, a clock that is set, lost sound.

The session waits where it was, goes on at the right step, counts nothing twice and keeps the gap.
"""

import pytest
from playwright.sync_api import expect

from e2e.background import OwnBrowser
from e2e.phone_reading import RUN
from e2e.screens import AfterScreen, DayScreen, JoinPage, SessionScreen
from e2e.test_ways import finished
from tests.cast import BELL_FOUNDER

HOURS = 3600
LEAD_IN = 6
LEAD_IN_AND_MORE = 15_000
# The page's own clock, for waiting in real time without a sleep of the test's.
PASSES = "(seconds) => new Promise((done) => setTimeout(done, seconds * 1000))"


def is_counted_once(run):
    """No step stands twice, none is done that was not begun, and no more time was worked than the sheet has by there."""
    begun, done = run["begun"], run["done"]
    return len(set(begun)) == len(begun) and set(done) <= set(begun) and run["workedMs"] <= run["activeMs"] + 1


@pytest.fixture
def session(one_phone, server, joined):
    """A session under way on a dead server, its clock in our hands."""
    joined(one_phone, BELL_FOUNDER)
    server.kill()
    one_phone.begin_session()
    return SessionScreen(one_phone.page)


@pytest.fixture
def own_browser(engine, tmp_path):
    opened = OwnBrowser(engine, tmp_path / "profile")
    yield opened
    opened.kill()


@pytest.fixture
def real_session(own_browser, server, practice):
    """A session under way in a browser whose pages can really be hidden and frozen, in real time, on a dead server."""
    page = own_browser.start()
    page.goto(f"{server.origin}/join#{practice.enrol(BELL_FOUNDER).token}")
    JoinPage(page).accept.click()
    page.wait_for_url("**/app/**")
    page.evaluate("navigator.serviceWorker.ready")
    DayScreen(page).start.click()
    running = SessionScreen(page).running
    expect(running.or_(SessionScreen(page).main).first).to_be_visible()
    if not running.is_visible():
        SessionScreen(page).main.click()
    expect(running).to_be_visible()
    server.kill()
    return page


def test_six_hours_asleep_cost_no_step_and_are_told(one_phone, session):
    one_phone.stand_still()
    one_phone.play(33)
    step, before = session.title.inner_text(), one_phone.page.evaluate(RUN)
    one_phone.context.clock.fast_forward(6 * HOURS * 1000)
    expect(session.paused).to_be_visible()
    expect(session.away).to_contain_text("6 hours")
    after = one_phone.page.evaluate(RUN)
    assert session.title.inner_text() == step
    assert after["step"] == before["step"]
    assert [round(away / HOURS) for _, away in after["gaps"]] == [6]
    assert is_counted_once(after)
    session.stop.tap()
    session.why("interrupted").tap()
    one_phone.rate(1)
    [finished_body] = finished(one_phone)
    assert finished_body["gaps"] == after["gaps"]


def go_away(phone, session):
    phone.context.clock.fast_forward(600 * 1000)
    expect(session.away).to_be_visible()


def test_after_an_absence_the_step_goes_on_or_starts_again_or_all_ends(one_phone, session):
    one_phone.play(33)
    one_phone.stand_still()
    step, before = session.title.inner_text(), session.numeral.inner_text()
    go_away(one_phone, session)
    expect(session.main).to_have_text("Go on with this step")
    expect(session.back).to_have_text("Start the step again")
    expect(session.stop).to_have_text("Finish here")
    session.main.tap()
    one_phone.play(LEAD_IN)
    expect(session.running).to_be_visible()
    expect(session.back).to_have_text("Back")
    expect(session.title).to_have_text(step)
    assert int(session.numeral.inner_text()) >= int(before) > 1
    go_away(one_phone, session)
    session.stop.tap()
    session.why("interrupted").tap()
    expect(AfterScreen(one_phone.page).title).to_be_visible()


@pytest.mark.parametrize("seconds", [1, 20])
def test_a_step_starts_again_after_an_absence_whatever_time_had_passed_in_it(one_phone, session, seconds):
    one_phone.stand_still()
    one_phone.skip_to("warm_up")
    one_phone.play(seconds)
    step = session.title.inner_text()
    go_away(one_phone, session)
    session.back.tap()
    one_phone.play(LEAD_IN)
    expect(session.running).to_be_visible()
    expect(session.title).to_have_text(step)
    expect(session.numeral).to_have_text("1")


@pytest.mark.parametrize("hours", [pytest.param(-5, id="back", marks=pytest.mark.long), pytest.param(5, id="forward")])
def test_a_clock_that_is_set_holds_the_session_where_it_was(one_phone, session, hours):
    one_phone.play(33)
    before = one_phone.page.evaluate(RUN)
    one_phone.page.evaluate(
        "by => { const now = Date.now; Date.now = () => now.call(Date) + by; }", hours * HOURS * 1000
    )
    one_phone.play(2)
    expect(session.paused).to_be_visible()
    after = one_phone.page.evaluate(RUN)
    assert after["step"] == before["step"]
    assert len(after["gaps"]) == 1
    assert is_counted_once(after)
    session.main.tap()
    one_phone.play(30)
    gone_on = one_phone.page.evaluate(RUN)
    assert gone_on["activeMs"] > after["activeMs"]
    assert is_counted_once(gone_on)


def test_lost_sound_is_said_and_the_session_goes_on(one_phone, session):
    one_phone.play(12)
    note = one_phone.page.locator("#page [data-note=sound]")
    expect(note).to_be_hidden()
    one_phone.page.evaluate("soundsOfThisPage.at(-1).interrupt()")
    one_phone.play(3)
    expect(note).to_be_visible()
    expect(session.running).to_be_visible()
    laid = one_phone.page.evaluate("tonesOfThisPage.length")
    note.get_by_role("button").tap()
    one_phone.play(2)
    expect(note).to_be_hidden()
    assert one_phone.page.evaluate("tonesOfThisPage.length") > laid


def test_a_closed_sound_is_made_anew(one_phone, session):
    one_phone.play(12)
    one_phone.page.evaluate("soundsOfThisPage.at(-1).close()")
    one_phone.play(3)
    one_phone.page.locator("#page [data-note=sound]").get_by_role("button").tap()
    one_phone.play(3)
    assert one_phone.page.evaluate("soundsOfThisPage.length") >= 2
    late = one_phone.page.evaluate("tonesOfThisPage.filter((tone) => tone.at < tone.asked - 0.06).length")
    assert late == 0
    expect(session.running).to_be_visible()


@pytest.mark.long
def test_a_hidden_page_waits_and_goes_on_at_the_same_step(real_session, own_browser):
    page = real_session
    page.evaluate(PASSES, 2)
    own_browser.hide()
    page.evaluate(PASSES, 6)
    own_browser.bring_back()
    session = SessionScreen(page)
    expect(session.paused).to_be_visible()
    expect(session.away).to_be_visible()
    run = page.evaluate(RUN)
    assert run["step"] == 0
    assert len(run["gaps"]) == 1
    assert run["gaps"][0][1] >= 5
    session.main.click()
    expect(session.running).to_be_visible(timeout=LEAD_IN_AND_MORE)


@pytest.mark.long
def test_a_frozen_page_waits_where_it_was(real_session, own_browser):
    page = real_session
    page.evaluate(PASSES, 1)
    own_browser.hide()
    own_browser.freeze()
    own_browser.page.context.pages[-1].evaluate(PASSES, 6)
    own_browser.thaw()
    own_browser.bring_back()
    session = SessionScreen(page)
    expect(session.paused).to_be_visible()
    run = page.evaluate(RUN)
    assert run["activeMs"] < 8000
    assert len(run["gaps"]) == 1
    assert run["gaps"][0][1] >= 4


@pytest.mark.long
def test_a_killed_browser_comes_back_to_the_step_with_the_gap_kept(real_session, own_browser, server):
    session = SessionScreen(real_session)
    expect(session.title).to_have_text("Open and close the fingers", timeout=20_000)
    own_browser.kill()

    page = own_browser.start()
    page.goto(f"{server.origin}/app/en/")
    DayScreen(page).go_on.click()
    session = SessionScreen(page)
    expect(session.title).to_have_text("Open and close the fingers")
    expect(session.running).to_be_visible(timeout=LEAD_IN_AND_MORE)
    session.stop.click()
    session.why("interrupted").click()
    expect(AfterScreen(page).title).to_be_visible()
    run = page.evaluate(RUN)
    assert run["begun"] == [1]
    assert run["done"] == []
    assert len(run["gaps"]) == 1
    assert is_counted_once(run)

"""One tap on the day page starts a session, or goes on with one; nothing else does."""

import pytest
from playwright.sync_api import expect

from e2e.background import OwnBrowser
from e2e.phone import SHELL
from e2e.phone_reading import RUN
from e2e.screens import DayScreen, JoinPage, SessionScreen
from tests.cast import BELL_FOUNDER

LEAD_IN = 6
# What only a tap may ask for, as far as it was asked for while a person's own click was being heard (PLATFORM: audio unlock,
# speech and wake lock of phones; checked against the browser's own event).
HEARKEN = """
window.askedInATap = [];
const hearken = (owner, name, what) => {
  const own = owner[name];
  owner[name] = function (...given) {
    if (window.event?.type === "click" && window.event.isTrusted) window.askedInATap.push(what);
    if (what === "sound") window.soundOfThisPage = this;
    return own.apply(this, given);
  };
};
hearken(AudioContext.prototype, "resume", "sound");
hearken(SpeechSynthesis.prototype, "speak", "voice");
hearken(WakeLock.prototype, "request", "lock");
"""
PASSES = "(seconds) => new Promise((done) => setTimeout(done, seconds * 1000))"
# Changes what the phone keeps behind the back of the page that is on the screen.
BEHIND_ITS_BACK = """async (how) => {
  const [{ name }] = await indexedDB.databases();
  const db = await new Promise((done) => { indexedDB.open(name).onsuccess = ({ target }) => done(target.result); });
  const tx = db.transaction(['meta', 'bundles'], 'readwrite');
  const meta = tx.objectStore('meta'), bundles = tx.objectStore('bundles');
  if (how === 'gone') meta.delete('bundleHash');
  else bundles.getAll().onsuccess = ({ target: { result: [bundle] } }) => {
    bundles.put({ hash: 'another', json: JSON.stringify({ ...JSON.parse(bundle.json), hash: 'another' }) });
    meta.put('another', 'bundleHash');
  };
  await new Promise((done, fail) => { tx.oncomplete = done; tx.onabort = fail; });
  db.close();
}"""


@pytest.fixture
def phone(one_phone, joined):
    """A phone on which no session was done and no sound was heard."""
    joined(one_phone, BELL_FOUNDER)
    return one_phone


@pytest.fixture
def session(phone):
    return SessionScreen(phone.page)


@pytest.fixture
def real_page(engine, tmp_path, server, practice):
    """The day page in a browser with a sound, a voice and a clock of its own, the sound having been checked."""
    browser = OwnBrowser(engine, tmp_path / "profile")
    page = browser.start()
    page.goto(f"{server.origin}/join#{practice.enrol(BELL_FOUNDER).token}")
    JoinPage(page).accept.click()
    DayScreen(page).start.click()
    SessionScreen(page).try_sound.click()
    SessionScreen(page).heard.click()
    expect(SessionScreen(page).heard).to_be_hidden()
    page.context.add_init_script(HEARKEN)
    page.goto(f"{server.origin}{SHELL}")
    page.reload()
    expect(DayScreen(page).start).to_be_visible()
    yield page
    browser.kill()


def start_by_one_tap(phone, session):
    """The sound was heard once before; the session has run for a while."""
    phone.check_sound()
    phone.day.start.tap()
    expect(session.running).to_be_visible()
    phone.play(33)


def test_the_tap_itself_asks_for_sound_voice_and_light_and_the_clock_of_the_tones_runs(real_page):
    DayScreen(real_page).start.click()
    expect(SessionScreen(real_page).running).to_be_visible()
    assert {"sound", "voice", "lock"} <= set(real_page.evaluate("askedInATap"))
    before = real_page.evaluate("soundOfThisPage.currentTime")
    real_page.evaluate(PASSES, 1)
    assert real_page.evaluate("soundOfThisPage.state") == "running"
    assert real_page.evaluate("soundOfThisPage.currentTime") - before > 0.5
    assert real_page.evaluate(RUN)["activeMs"] > 0


def test_before_the_first_session_start_opens_the_sound_check(phone, session):
    phone.day.start.tap()
    expect(session.ready).to_be_visible()
    expect(session.try_sound).to_be_in_viewport()
    phone.play(20)
    expect(session.ready).to_be_visible()
    assert phone.page.evaluate(RUN) is None


def test_a_sound_that_was_not_heard_is_checked_again(phone, session):
    phone.open_session().try_sound.tap()
    session.unheard.tap()
    expect(session.unheard).to_be_visible()
    phone.open()
    phone.day.start.tap()
    expect(session.try_sound).to_be_visible()


def test_who_wants_no_sound_has_none_to_check(phone, session):
    phone.open_session().ways.tap()
    session.way("speaker", "nothing").tap()
    session.stop.tap()
    expect(phone.day.ways_told).to_have_text("no sound")
    phone.day.start.tap()
    expect(session.running).to_be_visible()


def test_what_was_chosen_is_told_on_the_day_page_and_done_by_its_tap(phone, session):
    phone.check_sound()
    expect(phone.day.ways_told).to_be_hidden()
    phone.day.ways.tap()
    session.ways.tap()
    for name, value in (("part", "short"), ("pace", "own")):
        session.way(name, value).tap()
    session.time("rest").fill("75")
    session.way("hand").tap()
    session.stop.tap()
    expect(phone.day.ways_told).to_have_text("short day, own pace, and own times")
    phone.day.start.tap()
    expect(session.left_handed).to_be_visible()
    phone.play(1)
    run = phone.page.evaluate(RUN)
    assert run["ways"] == ["short", "own_pace"]
    assert {step["seconds"] for step in run["plan"]["steps"] if step["kind"] == "rest"} == {75}
    assert all(step["isGated"] for step in run["plan"]["steps"] if step["reps"])


def test_how_much_is_chosen_for_one_session_only(phone, session):
    phone.check_sound()
    phone.open_session().ways.tap()
    session.way("part", "short").tap()
    phone.skip_session(1)
    expect(phone.day.ways_told).to_be_hidden()
    phone.begin_session()
    phone.play(1)
    assert phone.page.evaluate(RUN)["ways"] == []


def test_the_page_of_a_running_session_is_loaded_anew_and_starts_nothing(phone, session):
    start_by_one_tap(phone, session)
    phone.page.reload()
    expect(session.paused).to_be_visible()
    active_ms = phone.page.evaluate(RUN)["activeMs"]
    phone.play(30)
    expect(session.paused).to_be_visible()
    assert phone.page.evaluate(RUN)["activeMs"] == active_ms


def test_the_address_of_the_session_alone_starts_nothing(phone, session):
    phone.check_sound()
    phone.page.goto(f"{SHELL}#session")
    phone.page.reload()
    phone.play(20)
    expect(session.ready).to_be_visible()


def test_leaving_by_the_phones_own_button_and_coming_back_starts_nothing(phone, session):
    start_by_one_tap(phone, session)
    phone.page.go_back()
    expect(phone.day.go_on).to_be_visible()
    phone.page.go_forward()
    expect(session.paused).to_be_visible()
    phone.play(20)
    expect(session.paused).to_be_visible()


@pytest.mark.parametrize("act", ["go_on", "restart"])
def test_a_session_that_was_left_goes_on_by_one_tap(phone, session, act):
    phone.begin_session()
    phone.stand_still()
    phone.play(90)
    step = session.title.inner_text()
    phone.open()
    before = phone.page.evaluate(RUN)
    getattr(phone.day, act).tap()
    expect(session.title).to_have_text(step)
    phone.play(LEAD_IN)
    expect(session.running).to_be_visible()
    after = phone.page.evaluate(RUN)
    assert after["step"] == before["step"]
    assert (after["activeMs"] >= before["activeMs"]) == (act == "go_on")


@pytest.mark.parametrize("how", ["gone", "another"])
def test_a_session_that_changed_in_the_moment_of_the_tap_is_not_started_and_says_so(phone, session, how):
    phone.check_sound()
    expect(phone.day.changed).to_be_hidden()
    phone.page.evaluate(BEHIND_ITS_BACK, how)
    phone.day.start.tap()
    expect(phone.day.changed).to_be_visible()
    phone.play(5)
    expect(phone.day.title).to_be_visible()
    assert phone.page.evaluate(RUN) is None
    assert phone.page.evaluate("soundsOfThisPage.at(-1).state") == "closed"
    if how == "another":
        phone.day.start.tap()
        expect(session.running).to_be_visible()


def test_a_page_before_the_start_that_was_left_open_over_night_starts_nothing_of_yesterday(phone):
    ready = phone.open_session()
    phone.context.clock.fast_forward(14 * 3600 * 1000)
    ready.main.tap()
    expect(phone.day.changed).to_be_visible()
    assert phone.page.evaluate(RUN) is None

"""A newer build while a session runs: it waits, whatever else happens, and takes over only when the client says so."""

import shutil

import pytest
from playwright.sync_api import expect

from e2e.phone import ALL_SENT
from e2e.ready_server import ROOT
from e2e.screens import PhoneScreen, SessionScreen
from tests.cast import BELL_FOUNDER

BUILD = "document.documentElement.dataset.build"
# Asks for the newer worker and waits until it is there and waiting.
FETCH_NEWER = """async () => {
  const known = await navigator.serviceWorker.getRegistration('/app/');
  await known.update();
  const newer = known.waiting ?? known.installing;
  while (newer.state === 'installing') await new Promise((done) => newer.addEventListener('statechange', done, { once: true }));
  return newer.state;
}"""


@pytest.fixture
def newer(tmp_path):
    """A copy of the program with one file of the phone changed."""
    copy = tmp_path / "newer"
    for folder in ("webapp", "content", "pwa_assets"):
        shutil.copytree(ROOT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__"))
    with (copy / "pwa_assets/css/tokens.css").open("a", encoding="utf-8") as sheet:
        sheet.write("\n.newer { color: inherit; }\n")
    return copy


@pytest.mark.long
def test_a_newer_build_never_takes_over_in_a_session_and_loses_no_entry(one_phone, server, practice, newer, joined):
    phone, page, session = one_phone, one_phone.page, SessionScreen(one_phone.page)
    client = joined(phone, BELL_FOUNDER)
    server.kill()
    phone.skip_session(worst=1)
    build, entries = page.evaluate(BUILD), phone.log()["ids"]
    phone.begin_session()
    phone.play(14)

    server.start(newer)
    page.evaluate("() => { window.isStillThisPage = true; }")
    assert page.evaluate(FETCH_NEWER) == "installed"
    phone.play(30)
    expect(session.running).to_be_visible()
    assert page.evaluate("window.isStillThisPage")
    assert page.evaluate(BUILD) == build

    phone.skip_to_the_end()
    assert page.evaluate("window.isStillThisPage")
    phone.rate(2)
    assert page.evaluate(BUILD) == build
    screen = PhoneScreen(page)
    screen.open()
    with page.expect_event("load"):
        screen.use_newer.tap()
    expect(screen.send).to_be_visible()
    assert page.evaluate(BUILD) != build
    assert set(entries) < set(phone.log()["ids"])
    screen.send.tap()
    expect(screen.waiting).to_have_text(ALL_SENT)
    assert sorted(event["id"] for event in practice.log(client.id)) == sorted(phone.log()["ids"])

"""The language of a phone: chosen with the invitation, changed on the phone, and whole without a network afterwards."""

import re
from datetime import UTC, datetime

import pytest
from playwright.sync_api import expect

from e2e.phone import SHELL
from e2e.screens import CodeScreen, JoinPage, SessionScreen
from e2e.settings import SettingsScreen
from tests.cast import BELL_FOUNDER
from webapp.records import cases, invitations
from webapp.records.database import open_records

OTHER = "en-XA"
BUNDLE = """async () => {
  const { createClock, createStore } = halfturnModules;
  return (await createStore(createClock(), () => {}).bundle()).locale;
}"""
IN_CHARGE = "(locale) => navigator.serviceWorker.controller?.scriptURL.endsWith(`?locale=${locale}`)"
# Asks the worker in charge whether it has every file.
HAS_ALL = """() => {
  const { port1, port2 } = new MessageChannel();
  return new Promise((done) => {
    port1.onmessage = ({ data }) => done(data);
    navigator.serviceWorker.controller.postMessage('keep', [port2]);
  });
}"""


@pytest.fixture
def server(server):
    """The server, which serves a second language: the pseudo-language, every sentence in brackets."""
    server.kill()
    server.settings["HALFTURN_LOCALES"] = f"en,{OTHER}"
    server.start()
    return server


def choose(phone, locale):
    screen = SettingsScreen(phone.page)
    screen.way.tap()
    screen.language.select_option(locale)
    screen.change_language.tap()


def is_whole(page, locale):
    """Wait until the worker of a language is in charge, and return whether it has every file."""
    page.wait_for_function(IN_CHARGE, arg=locale)
    return page.evaluate(HAS_ALL)


def opens_in(phone, locale):
    """The page and its button are in a language now."""
    expect(phone.page.locator("html")).to_have_attribute("lang", locale)
    expect(phone.day.start).to_have_text(re.compile(r"^\[Start" if locale == OTHER else "^Start$"))


def test_a_phone_changes_its_language_and_then_needs_no_network(one_phone, server, joined):
    phone, page = one_phone, one_phone.page
    joined(phone, BELL_FOUNDER)
    before = phone.log()["ids"]
    choose(phone, OTHER)
    opens_in(phone, OTHER)
    expect(phone.day.session).to_contain_text("[")
    assert is_whole(page, OTHER)

    server.kill()
    phone.page.goto(SHELL)
    opens_in(phone, OTHER)
    assert page.evaluate(BUNDLE) == OTHER
    assert set(before) <= set(phone.log()["ids"])
    phone.day.start.tap()
    session = SessionScreen(page)
    expect(session.running.or_(session.ready)).to_be_visible()
    expect(page.locator("#page")).to_contain_text("[")


def test_without_a_network_the_phone_says_so_and_changes_nothing(one_phone, server, joined):
    phone = one_phone
    joined(phone, BELL_FOUNDER)
    before = phone.log()
    server.kill()
    choose(phone, OTHER)
    expect(SettingsScreen(phone.page).language_told).to_have_text(
        "The other language could not be fetched, so nothing was changed. Try again when there is a network."
    )
    phone.open()
    opens_in(phone, "en")
    assert phone.page.evaluate(BUNDLE) == "en"
    assert phone.log() == before


@pytest.mark.long
def test_a_second_window_in_the_earlier_language_follows_when_it_is_looked_at(one_phone, server, joined):
    phone = one_phone
    joined(phone, BELL_FOUNDER)
    second = phone.context.new_page()
    second.goto(SHELL)
    expect(second.locator("html")).to_have_attribute("lang", "en")
    choose(phone, OTHER)
    opens_in(phone, OTHER)
    assert is_whole(phone.page, OTHER)
    second.evaluate("dispatchEvent(new Event('focus'))")
    expect(second.locator("html")).to_have_attribute("lang", OTHER)
    assert is_whole(phone.page, OTHER)


def test_an_invitation_opens_in_the_clients_language_whatever_the_browser_prefers(one_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    db = open_records(server.db_path)
    cases.choose_locale(db, client.id, OTHER)
    db.conn.close()
    page = one_phone.page
    page.goto("/app/#day")
    expect(page.locator("html")).to_have_attribute("lang", "en")
    page.goto(f"/join?locale={OTHER}#{client.token}")
    expect(JoinPage(page).accept).to_have_text(re.compile(r"^\[Join with this phone"))
    JoinPage(page).accept.tap()
    opens_in(one_phone, OTHER)
    assert page.evaluate(BUNDLE) == OTHER


@pytest.mark.long
def test_a_code_typed_inside_the_app_opens_it_in_the_clients_language(one_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    db = open_records(server.db_path)
    cases.choose_locale(db, client.id, OTHER)
    code = invitations.make_code(db, client.id, datetime.now(UTC)).code
    db.conn.close()
    page = one_phone.page
    page.goto(f"{SHELL}#join")
    CodeScreen(page).code.fill(code)
    CodeScreen(page).link.tap()
    opens_in(one_phone, OTHER)
    assert is_whole(page, OTHER)

"""From the link to the first Start, and on to an icon that works: whoever taps twice, in two tabs, or on the wrong page, too."""

import re
from dataclasses import replace

import pytest
from playwright.sync_api import expect

from e2e.phone import SHELL, Phone
from e2e.screens import CodeScreen, DayScreen, HomeScreen, JoinPage, PhoneScreen, SessionScreen
from e2e.sizes import WAIT_MILLISECONDS, phone_options
from tests.cast import BELL_FOUNDER, CELLIST, HEDDA
from webapp.records import devices
from webapp.records.database import open_records

MOST_TAPS = 5
SMALLEST = (360, 640)
KEPT, NOT_KEPT = re.compile("^Kept on this phone"), re.compile("^Not kept on this phone yet")
A_SCRIPT = "**/assets/*/js/main.js"
A_LONG_NOTE = "Begin gently, Ansgar, and write to me how the first evening went. " * 4
# As in Apple's browsers, which say in this way that a page can be put on the home screen.
APPLE = "Object.defineProperty(navigator, 'standalone', { value: false, configurable: true })"
# Stands in for Chromium's own question, which it does not put to a driven browser.
QUESTION = """() => {
  window.asked = 0;
  dispatchEvent(Object.assign(new Event('beforeinstallprompt'), { prompt: async () => { window.asked += 1; } }));
}"""
# Whether a thumb finds all of a control where it stands, with nothing on top of it.
IS_AT_HAND = """(control) => {
  const { left, top, right, bottom } = control.getBoundingClientRect();
  const isInside = left >= 0 && top >= 0 && right <= innerWidth && bottom <= innerHeight;
  return isInside && control.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2));
}"""


class Thumb:
    """Taps what stands before it, never scrolls, and counts."""

    def __init__(self):
        self.taps = 0

    def tap(self, control):
        expect(control).to_be_visible()
        assert control.evaluate(IS_AT_HAND), f"out of reach: {control}"
        assert control.page.evaluate("scrollY") == 0
        control.tap()
        self.taps += 1


@pytest.fixture
def small(browser, server):
    """Makes phones of the smallest size, each with a storage of its own."""
    made = []

    def switch_on(evening):
        context = browser.new_context(**phone_options(*SMALLEST), base_url=server.origin)
        context.set_default_timeout(WAIT_MILLISECONDS)
        made.append(context)
        return Phone.switched_on(context, evening)

    yield switch_on
    for context in made:
        context.close()


def joined(server, client):
    """The phones of a client, as the practitioner's list has them."""
    db = open_records(server.db_path)
    try:
        return [each.id for each in devices.of_client(db, client.id)]
    finally:
        db.conn.close()


def the_icon_opens(phone, address):
    """Where an icon leads that was made on a page, as the manifest says that the browser itself finds there."""
    page = phone.page
    page.goto(address)
    cdp = phone.context.new_cdp_session(page)
    found = cdp.send("Page.getAppManifest")
    assert found["errors"] == []
    return found["manifest"]["startUrl"]


@pytest.mark.parametrize("note", ["", pytest.param(A_LONG_NOTE, marks=pytest.mark.long, id="long note")])
def test_from_the_link_to_the_first_set_in_five_taps_without_scrolling(small, practice, evening, note):
    phone, thumb = small(evening), Thumb()
    page, session = phone.page, SessionScreen(phone.page)
    client = practice.enrol(replace(BELL_FOUNDER, note=note))
    page.goto(f"/join#{client.token}")
    expect(JoinPage(page).practitioner).to_have_text(HEDDA.name)
    thumb.tap(JoinPage(page).accept)
    expect(phone.day.about).to_contain_text(HEDDA.name)
    thumb.tap(phone.day.start)
    thumb.tap(session.try_sound)
    thumb.tap(session.heard)
    thumb.tap(session.main)
    expect(session.running).to_be_visible()
    assert thumb.taps <= MOST_TAPS


def test_the_phones_own_way_back_from_the_first_day_does_not_lead_to_the_invitation(small, server, practice, evening):
    phone = small(evening)
    phone.page.goto("/")
    phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    phone.page.go_back()
    phone.page.wait_for_url(f"{server.origin}/")


def test_a_link_opened_twice_leads_to_the_day_page(one_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    one_phone.join_by_link(client.token)
    for address in (f"/join#{client.token}", "/join"):
        one_phone.page.goto("about:blank")
        one_phone.page.goto(address)
        expect(one_phone.day.title).to_be_visible()
    assert len(joined(server, client)) == 1


def test_a_link_that_another_phone_has_used_says_so_before_anything_is_pressed(one_phone, small, practice, evening):
    client = practice.enrol(BELL_FOUNDER)
    one_phone.join_by_link(client.token)
    other = small(evening)
    other.page.goto(f"/join#{client.token}")
    expect(JoinPage(other.page).problem).to_contain_text("used already")
    expect(JoinPage(other.page).code).to_be_visible()


def test_two_tabs_join_at_once_as_one_phone(one_phone, server, practice):
    client = practice.enrol(BELL_FOUNDER)
    tabs = [one_phone.page, one_phone.context.new_page()]
    for tab in tabs:
        tab.goto(f"/join#{client.token}")
        expect(JoinPage(tab).practitioner).to_have_text(HEDDA.name)
    for tab in tabs:
        tab.evaluate("document.querySelector('[data-join]').click()")
    for tab in tabs:
        expect(DayScreen(tab).start).to_be_visible()
    assert len(joined(server, client)) == 1


def test_a_phone_stays_its_clients_when_anothers_invitation_is_opened_on_it(one_phone, server, practice):
    mine, other = practice.enrol(BELL_FOUNDER), practice.enrol(CELLIST)
    one_phone.join_by_link(mine.token)
    entries = one_phone.log()["ids"]
    one_phone.page.goto(f"/join#{other.token}")
    expect(JoinPage(one_phone.page).another).to_be_visible()
    expect(JoinPage(one_phone.page).problem).to_contain_text("Remove from this phone")
    JoinPage(one_phone.page).another.get_by_role("link").tap()
    expect(one_phone.day.start).to_be_visible()
    assert one_phone.log()["ids"] == entries
    assert joined(server, other) == []


def test_the_icons_own_storage_is_let_in_by_a_code_from_the_browser(small, server, practice, evening):
    safari = small(evening)
    safari.context.add_init_script(APPLE)
    client = practice.enrol(BELL_FOUNDER)
    safari.join_by_link(client.token)
    safari.day.put_home.tap()
    home = HomeScreen(safari.page)
    expect(home.title).to_be_visible()
    home.show_code.tap()
    expect(home.until).to_contain_text("18:30")
    code = home.code.inner_text()

    icon = small(evening)
    icon.page.goto(the_icon_opens(icon, f"/join#{client.token}"))
    icon.page.wait_for_url(f"**{SHELL}#join")
    CodeScreen(icon.page).code.fill(code.lower())
    CodeScreen(icon.page).link.tap()
    icon.wait_until_kept()
    assert len(joined(server, client)) == 2

    icon.page.goto(f"{SHELL}#join")
    CodeScreen(icon.page).code.fill(code)
    CodeScreen(icon.page).link.tap()
    expect(icon.day.start).to_be_visible()
    assert len(joined(server, client)) == 2


def test_a_code_that_cannot_be_fetched_says_what_to_do(one_phone, server, joined):
    joined(one_phone, BELL_FOUNDER)
    server.kill()
    one_phone.day.put_home.tap()
    home = HomeScreen(one_phone.page)
    home.show_code.tap()
    expect(home.fault).to_contain_text("needs a network")
    expect(home.code).to_be_hidden()


@pytest.mark.parametrize(
    "address",
    ["/", "/join", pytest.param("/app/recover", marks=pytest.mark.long), pytest.param(SHELL, marks=pytest.mark.long)],
)
def test_an_icon_made_on_any_page_opens_the_day_page_even_without_a_network(one_phone, server, joined, address):
    joined(one_phone, BELL_FOUNDER)
    expect(one_phone.day.kept).to_have_text(KEPT)
    if address == "/join":
        one_phone.page.route("**/api/me", lambda route: route.abort())
    opened = the_icon_opens(one_phone, address)
    server.kill()
    one_phone.page.goto(opened)
    expect(one_phone.day.start).to_be_visible()


def test_the_browsers_own_question_is_put_by_one_tap_on_the_day_page(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    one_phone.page.evaluate(QUESTION)
    one_phone.day.put_home.tap()
    assert one_phone.page.evaluate("window.asked") == 1
    one_phone.page.evaluate("dispatchEvent(new Event('appinstalled'))")
    expect(one_phone.day.home).to_be_hidden()


def test_the_home_screen_is_offered_until_it_is_put_off(one_phone, joined):
    joined(one_phone, BELL_FOUNDER)
    one_phone.day.put_off.tap()
    expect(one_phone.day.home).to_be_hidden()
    one_phone.open()
    expect(one_phone.day.start).to_be_visible()
    expect(one_phone.day.home).to_be_hidden()
    PhoneScreen(one_phone.page).open()
    PhoneScreen(one_phone.page).put_home.tap()
    expect(HomeScreen(one_phone.page).title).to_be_visible()


def test_it_is_called_kept_once_everything_has_come_and_not_before(one_phone, server, practice):
    """One script hangs, then fails; then the network is whole again, and nobody does anything."""
    phone, hanging = one_phone, []

    def hang_once(route):
        if route.request.service_worker and not hanging:
            hanging.append(route)
        else:
            route.continue_()

    phone.context.route(A_SCRIPT, hang_once)
    phone.page.goto(f"/join#{practice.enrol(BELL_FOUNDER).token}")
    JoinPage(phone.page).accept.tap()
    expect(phone.day.start).to_be_visible()
    expect(phone.day.kept).to_have_text(NOT_KEPT)
    phone.context.clock.fast_forward(60_000)
    expect(phone.day.kept).to_have_text(NOT_KEPT)
    hanging[0].abort()
    expect(phone.day.kept).to_have_text(KEPT)
    expect(phone.day.kept_below).to_have_text(KEPT)
    server.kill()
    phone.page.reload()
    expect(phone.day.start).to_be_visible()
    expect(phone.day.kept).to_have_text(KEPT)


def test_without_a_routine_nothing_is_called_kept(one_phone, practice):
    one_phone.context.route("**/api/sync", lambda route: route.abort())
    one_phone.page.goto(f"/join#{practice.enrol(BELL_FOUNDER).token}")
    JoinPage(one_phone.page).accept.tap()
    one_phone.page.wait_for_url(f"**{SHELL}**")
    one_phone.page.wait_for_function("async () => (await navigator.serviceWorker.ready).active.state === 'activated'")
    expect(one_phone.day.kept).to_have_text(NOT_KEPT)
    one_phone.context.unroute("**/api/sync")
    one_phone.send()
    expect(one_phone.day.kept).to_have_text(KEPT)

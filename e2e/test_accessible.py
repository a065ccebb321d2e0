"""Every screen, light and dark, against the rules of WCAG 2.2 AA that a machine can check; and no error on the way."""

from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from e2e.desk import Desk
from e2e.desk_pages import CaseloadPage, InvitationPage, RoutinePage
from e2e.past_pages import ClosingScreen
from e2e.phone import Phone
from e2e.screens import HomeScreen, JoinPage, PhoneScreen, SessionScreen, WarningsScreen
from e2e.sizes import phone_options
from e2e.test_joining import A_SCRIPT, APPLE, QUESTION
from tests.cast import BELL_FOUNDER, BOOKBINDER

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# Every screen is looked at in the light one, and in the dark one in the long trials.
SCHEMES = ("light", pytest.param("dark", marks=pytest.mark.long))
FINGER, FINGER_IN_A_SESSION = 44, 64
SMALLEST = (360, 640)
# A page whose clock stands still is looked at as well: what axe puts off by no time at all does not wait for that clock.
SOON = """(work, ms = 0) => {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => { port1.close(); work(); };
  if (ms < 2) port2.postMessage(0);
}"""
SIZES = """all => all.filter((one) => one.checkVisibility({ visibilityProperty: true })).map((one) => {
  const { width, height } = one.getBoundingClientRect();
  return [one.innerText, width, height];
})"""

# Where "no" is an answer like any other.
REFUSALS = ("/api/me", "/api/invitation")
# What is seen for no longer than the app takes to come.
ONLY_JOINED = (
    "for (const part of document.querySelectorAll('[data-part]')) part.hidden = part.dataset.part !== 'joined'"
)


def is_error(message):
    """Whether a page complains; a browser also writes down each answer that lets nobody in."""
    return message.type == "error" and not message.location["url"].endswith(REFUSALS)


def faults(page):
    """What axe finds on the page as it stands: rule and places."""
    if not page.evaluate("Boolean(window.axe)"):
        page.evaluate(f"((setTimeout) => {{ {Axe().axe_script} }})({SOON})")
    options = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]}
    found = page.evaluate("options => axe.run(options)", options)["violations"]
    return {fault["id"]: [node["target"] for node in fault["nodes"]] for fault in found}


def too_small(controls, pixels):
    """The visible controls that a finger may miss: their words, width and height."""
    sizes = controls.evaluate_all(SIZES)
    assert sizes
    return [size for size in sizes if min(size[1:]) < pixels - 0.5]


def is_wider_than_the_screen(page):
    return page.evaluate("document.documentElement.scrollWidth > innerWidth")


@pytest.fixture(params=SCHEMES)
def scheme(request):
    return request.param


@pytest.fixture
def small_phone(scheme, browser, server, evening):
    context = browser.new_context(**phone_options(*SMALLEST, scheme), base_url=server.origin)
    said = []
    phone = Phone.switched_on(context, evening)
    phone.page.on("console", lambda message: said.append(message.text) if is_error(message) else None)
    phone.page.on("pageerror", lambda error: said.append(str(error)))
    yield phone
    context.close()
    assert not said


@pytest.fixture
def bright_desk(scheme, desk):
    page = desk.new_page()
    page.emulate_media(color_scheme=scheme)
    return page


@pytest.mark.long
def test_the_pages_before_the_app_are_sound(small_phone, practice):
    page = small_phone.page
    page.goto("/")
    assert not faults(page)
    page.goto("/join#" + "x" * 30)
    expect(JoinPage(page).problem).not_to_be_empty()
    assert not faults(page)
    client, other = practice.enrol(BELL_FOUNDER), practice.enrol(BOOKBINDER)
    page.goto(f"/join#{client.token}")
    expect(JoinPage(page).practitioner).not_to_be_empty()
    assert not faults(page)
    page.evaluate(ONLY_JOINED)
    assert not faults(page)
    page.goto("/join")
    page.reload()
    expect(JoinPage(page).code).to_be_visible()
    assert not faults(page)
    page.goto("/app/recover")
    assert not faults(page)
    small_phone.join_by_link(client.token)
    page.goto(f"/join#{other.token}")
    expect(JoinPage(page).another).to_be_visible()
    assert not faults(page)


@pytest.mark.parametrize(
    "way", [pytest.param("apple", marks=pytest.mark.long), pytest.param("menu", marks=pytest.mark.long), "prompt"]
)
def test_the_way_to_the_home_screen_is_sound(small_phone, joined, way):
    phone, page, home = small_phone, small_phone.page, HomeScreen(small_phone.page)
    phone.context.add_init_script(APPLE if way == "apple" else "")
    joined(phone, BOOKBINDER)
    expect(phone.day.home).to_be_visible()
    if way == "prompt":
        page.evaluate(QUESTION)
    PhoneScreen(page).open()
    PhoneScreen(page).put_home.tap()
    expect(home.title).to_be_visible()
    assert {way} <= set(" ".join(home.ways.evaluate_all("all => all.map((one) => one.dataset.way)")).split())
    if way != "prompt":
        home.show_code.tap()
        expect(home.until).to_be_visible()
        home.copy.tap()
        expect(home.copied).not_to_be_empty()
    assert not faults(page)
    assert not too_small(page.locator("button, body > nav a"), FINGER)
    assert not is_wider_than_the_screen(page)


def test_the_first_day_is_sound_before_anything_is_kept(small_phone, practice):
    page = small_phone.page
    small_phone.context.route(A_SCRIPT, lambda route: None if route.request.service_worker else route.continue_())
    page.goto(f"/join#{practice.enrol(BELL_FOUNDER).token}")
    JoinPage(page).accept.tap()
    expect(small_phone.day.kept).to_contain_text("Not kept")
    assert not faults(page)


def test_the_clients_screens_are_sound(small_phone, joined):
    phone, page = small_phone, small_phone.page
    joined(phone, BOOKBINDER)
    expect(phone.day.start).to_be_visible()
    assert not faults(page)
    assert not too_small(page.locator("button, body > nav a"), FINGER)
    assert not is_wider_than_the_screen(page)
    WarningsScreen(page).way.tap()
    expect(WarningsScreen(page).report).to_be_visible()
    assert not faults(page)
    PhoneScreen(page).open()
    expect(PhoneScreen(page).send).to_be_visible()
    assert not faults(page)


def test_the_session_and_the_question_after_it_are_sound(small_phone, joined):
    phone, page = small_phone, small_phone.page
    joined(phone, BELL_FOUNDER)
    phone.begin_session()
    assert not faults(page)
    assert not too_small(SessionScreen(page).controls, FINGER_IN_A_SESSION)
    assert not is_wider_than_the_screen(page)
    phone.play_to_the_end()
    assert not faults(page)
    phone.rate(1)
    assert not faults(page)


def test_the_morning_after_is_sound(small_phone, joined):
    phone, page = small_phone, small_phone.page
    joined(phone, BOOKBINDER)
    phone.skip_session({"right": 2, "left": 2})
    phone.sleep_until_morning()
    expect(phone.day.save_morning).to_be_visible()
    assert not faults(page)
    assert not too_small(page.locator("button, fieldset label"), FINGER)
    assert not is_wider_than_the_screen(page)
    phone.report_morning({"right": 6, "left": 1})
    assert not faults(page)


def desk_faults(page):
    """What axe finds, buttons that a finger may miss, and a second main action on one page."""
    main_acts = [act.inner_text() for act in page.locator(".do:visible").all()]
    small = too_small(page.locator("button, .button"), FINGER)
    found = {"axe": faults(page), "small": small, "main": main_acts[1:], "wide": is_wider_than_the_screen(page)}
    return {name: page_faults for name, page_faults in found.items() if page_faults}


def test_the_desk_is_sound(bright_desk, practice):
    page = bright_desk
    page.goto("/practice/")
    assert not desk_faults(page)
    hedda = Desk.enter(page)
    assert not desk_faults(page)
    CaseloadPage(page).add.click()
    assert not desk_faults(page)
    hedda.take_on(BELL_FOUNDER)
    assert not desk_faults(page)
    RoutinePage(page).look()
    assert not desk_faults(page)
    RoutinePage(page).push.click()
    assert not desk_faults(page)
    hedda.case.make_link.click()
    expect(InvitationPage(page).link).to_be_visible()
    assert not desk_faults(page)


@pytest.mark.long
@pytest.mark.parametrize("to", ["maintenance", "ended"])
def test_the_screens_of_finishing_are_sound(small_phone, joined, practice, to):
    phone, page = small_phone, small_phone.page
    client = joined(phone, BELL_FOUNDER)
    phone.do_session(worst=1)
    days = 2 if to == "maintenance" else 0
    practice.set_course(client.id, to, phone.today, "Well done.", days, phone.today + timedelta(days=9))
    phone.send()
    phone.open()
    expect(phone.day.finishing).to_be_visible()
    assert not faults(page)
    page.goto(f"{phone.shell}#closing")
    expect(ClosingScreen(page).whole).to_be_visible()
    assert not faults(page)
    page.goto(f"{phone.shell}#reminders")
    expect(page.locator("#page [data-slot=course]")).to_be_visible()
    assert not faults(page)

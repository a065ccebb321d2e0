"""Every screen of phone and desk: not wider than its window, no words cut, and sound by axe, in each language and each look."""

from datetime import UTC, datetime

import pytest

from e2e.desk_walk import desk_screens
from e2e.every_screen import FIRST_EVENING, served
from e2e.past_screens import link_of
from e2e.phone import Phone
from e2e.phone_walk import phone_screens
from e2e.sizes import WAIT_MILLISECONDS, larger_text, phone_options
from e2e.test_accessible import faults
from e2e.test_session_looks import LIGHT, OTHER_LOOKS, PLAIN, TEXT, TO_THE_END
from e2e.way_screens import CLIENT, open_a_way, way_screens

WIDTHS = (320, 360, 390, 768)
HEIGHT = 640
# What is wider than the window, but for what lies in a scroller of its own; and buttons whose words are cut.
WRONG = """() => {
  // A phone's window grows with what is too wide for it, so the page's own width counts.
  const { clientWidth, scrollWidth } = document.documentElement;
  const wide = scrollWidth > clientWidth + 1
    ? [...document.querySelectorAll('body *')].filter((each) => each.getBoundingClientRect().right > clientWidth + 1 && each.checkVisibility())
    : [];
  const cut = [...document.querySelectorAll('button, .button, .stops')].filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1);
  return [...wide.map((each) => ['wider than the window', each]), ...cut.map((each) => ['cut', each])]
    .map(([what, each]) => `${what}: ${each.tagName.toLowerCase()}.${each.className} ${(each.textContent ?? '').trim().slice(0, 40)}`).slice(0, 4);
}"""


LARGER = """times => {
  const sheet = (window.largerWords ??= new CSSStyleSheet());
  sheet.replaceSync(times === 1 ? '' : `html { font-size: ${100 * times}% }`);
  if (!document.adoptedStyleSheets.includes(sheet)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}"""


class Ruler:
    """Measures each screen where a camera would take its picture, with words of these sizes."""

    def __init__(self, *texts):
        self.texts, self.found = texts or (1,), []

    def take(self, page, name, **_):
        before = page.viewport_size
        for times in self.texts:
            page.evaluate(LARGER, times)
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": HEIGHT})
                self.found += [(name, times, width, wrong) for wrong in page.evaluate(WRONG)]
        page.evaluate(LARGER, 1)
        page.set_viewport_size(before)


class Listener:
    """Asks axe about each screen in every look where a camera would take its picture."""

    def __init__(self):
        self.found = []

    def take(self, page, name, **_):
        for look, media, text in (LIGHT, *OTHER_LOOKS):
            page.emulate_media(**{**PLAIN, **media})
            page.evaluate(TEXT, text)
            page.evaluate(TO_THE_END)
            self.found += [(name, look, *fault) for fault in faults(page).items()]
        page.emulate_media(**PLAIN)
        page.evaluate(TEXT, "")


class Both:
    """Shows each screen to two, since the walk to it takes as long as a look at it."""

    def __init__(self, *two):
        self.two = two

    @property
    def found(self):
        return [fault for each in self.two for fault in each.found]

    def take(self, page, name, **other):
        for each in self.two:
            each.take(page, name, **other)


def walked(browser, language, camera, text=1):
    """Go through every screen of the phone in a language; what the camera noted is in it."""
    with served(language) as (server, token):
        context = browser.new_context(**{**phone_options(), "locale": language}, base_url=server.origin)
        context.set_default_timeout(WAIT_MILLISECONDS)
        phone = Phone.switched_on(context, FIRST_EVENING, language)
        if text != 1:
            larger_text(phone.page, text)
        phone_screens(phone, token, camera)
        context.close()
    return camera


@pytest.mark.long
@pytest.mark.parametrize(("language", "texts"), [("en", (1, 2)), ("es", (1,))], ids=["en", "es"])
def test_axe_finds_nothing_on_any_screen_of_the_phone_in_any_look_and_none_is_wider_than_its_window(
    browser, language, texts
):
    assert walked(browser, language, Both(Ruler(*texts), Listener())).found == []


@pytest.mark.long
@pytest.mark.parametrize(("language", "text"), [("es", 2), ("en-XA", 1)])
def test_no_screen_of_the_phone_is_wider_than_its_window(browser, language, text):
    assert walked(browser, language, Ruler(), text).found == []


@pytest.mark.long
def test_the_page_of_a_way_back_fits_its_window_and_axe_finds_nothing_in_spanish_in_any_look(browser):
    ruler, listener = Ruler(), Listener()

    def take(page, name):
        ruler.take(page, name)
        if name.endswith(("steps", "the-day-after")):
            listener.take(page, name)

    with served("es") as (server, _):
        open_a_way(server)
        context = browser.new_context(**{**phone_options(), "locale": "es"}, base_url=server.origin)
        context.set_default_timeout(WAIT_MILLISECONDS)
        phone = Phone.switched_on(context, datetime.now(UTC), "es")
        phone.join_by_link(link_of(server, CLIENT))
        way_screens(phone, take)
        context.close()
    assert ruler.found + listener.found == []


def at_the_desk(browser, language, camera):
    """Go through the desk's pages in a language; what the camera noted is in it."""
    with served(language) as (server, _):
        context = browser.new_context(viewport={"width": 1440, "height": 900}, locale=language, base_url=server.origin)
        context.set_default_timeout(WAIT_MILLISECONDS)
        desk_screens(context.new_page(), camera)
        context.close()
    return camera


@pytest.mark.long
@pytest.mark.parametrize("language", ["en", "en-XA"])
def test_no_page_of_the_desk_is_wider_than_its_window(browser, language):
    assert at_the_desk(browser, language, Ruler()).found == []


@pytest.mark.long
def test_axe_finds_nothing_on_any_page_of_the_desk_in_spanish_in_any_look_and_none_is_wider_than_its_window(browser):
    assert at_the_desk(browser, "es", Both(Ruler(), Listener())).found == []

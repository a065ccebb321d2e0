"""No screen is wider than its window, and no button cuts its words: in both languages, a third longer, and twice as large."""

import pytest

from e2e.every_screen import FIRST_EVENING, larger_text, phone_screens, served
from e2e.phone import Phone
from e2e.sizes import WAIT_MILLISECONDS, phone_options

WIDTHS = (320, 360, 390, 768)
HEIGHT = 640
# What is wider than the window, but for what lies in a scroller of its own; and buttons whose words are cut.
WRONG = """() => {
  const wide = document.documentElement.scrollWidth > innerWidth + 1
    ? [...document.querySelectorAll('body *')].filter((each) => each.getBoundingClientRect().right > innerWidth + 1 && each.checkVisibility())
    : [];
  const cut = [...document.querySelectorAll('button, .button, .stops')].filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1);
  return [...wide.map((each) => ['wider than the window', each]), ...cut.map((each) => ['cut', each])]
    .map(([what, each]) => `${what}: ${each.tagName.toLowerCase()}.${each.className} ${(each.textContent ?? '').trim().slice(0, 40)}`).slice(0, 4);
}"""


class Ruler:
    """Measures each screen where a camera would take its picture."""

    def __init__(self):
        self.found = []

    def take(self, page, name, **_):
        before = page.viewport_size
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            self.found += [(name, width, wrong) for wrong in page.evaluate(WRONG)]
        page.set_viewport_size(before)


@pytest.mark.long
@pytest.mark.parametrize(("language", "text"), [("en", 1), ("en", 2), ("es", 1), ("es", 2), ("en-XA", 1)])
def test_no_screen_of_the_phone_is_wider_than_its_window(browser, language, text):
    with served(language) as (server, token):
        options = {**phone_options(), "locale": language}
        context = browser.new_context(**options, base_url=server.origin)
        context.set_default_timeout(WAIT_MILLISECONDS)
        phone, ruler = Phone.switched_on(context, FIRST_EVENING, language), Ruler()
        if text != 1:
            larger_text(phone.page, text)
        phone_screens(phone, token, ruler)
        context.close()
    assert ruler.found == []

"""The screens between the invitation and the first session: their selectors, the usual way through them, and their pictures."""

from collections.abc import Callable

from playwright.sync_api import Locator, Page, expect

from e2e.phone import Phone
from webapp.events.kinds import LEVELS


class ScreeningScreen:
    """The safety questions before the first session, one level a page."""

    def __init__(self, page: Page) -> None:
        self.none = page.locator("#page [data-none] button")
        self.stop = page.locator("#page [data-plain] button:visible")
        self.before = page.locator("#page [data-act=before]")
        self.told = page.locator("#page [data-told]")
        self.act = self.told.locator("h1")
        self.take_back = self.told.locator("[data-act=take_back]")
        self.back = self.told.get_by_role("link", name="Back to today")
        self._page = page

    def page_of(self, level: str) -> Locator:
        """The page of a level."""
        return self._page.locator(f"#page section[data-level={level}]")

    def sign(self, id_: str) -> Locator:
        """One sign of the page that is shown."""
        return self._page.locator(f"#page .sign:has(input[value='{id_}'])")

    def stop_for(self, arm: str) -> Locator:
        """Say for which arm a sign is true: "right", "left" or "both"."""
        return self._page.locator(f"#page [data-by-arm] button[value='{arm}']")


def answer_questions(phone: Phone) -> None:
    """Go through the safety questions with nothing ticked, from the day page and back to it."""
    phone.day.begin_questions.tap()
    screening = ScreeningScreen(phone.page)
    for level in LEVELS:
        expect(screening.page_of(level)).to_be_visible()
        screening.none.tap()
    expect(phone.day.title).to_be_visible()


def arriving_screens(phone: Phone, take: Callable[[Page, str], None]) -> None:
    """Go through the safety questions with nothing ticked in the end; `take` takes a picture of each page."""
    page, screening = phone.page, ScreeningScreen(phone.page)
    take(page, "phone-02b-before-the-questions")
    phone.day.begin_questions.tap()
    for level, sign in zip(LEVELS, ("stroke", "", "", "heart"), strict=True):
        screening.page_of(level).wait_for()
        take(page, f"phone-02c-questions-{level}")
        if sign:
            screening.sign(sign).tap()
            take(page, f"phone-02d-ticked-{level}")
            screening.stop.tap()
            screening.told.wait_for()
            take(page, f"phone-02e-told-{level}")
            screening.take_back.tap()
            screening.page_of(level).wait_for()
        screening.none.tap()
    phone.day.start.wait_for()

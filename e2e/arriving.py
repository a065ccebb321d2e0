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
        self.reported = page.locator("#page [data-told]")
        self.act = self.reported.locator("h1")
        self.take_back = self.reported.locator("[data-act=take_back]")
        self.back = self.reported.get_by_role("link", name="Back to today")
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


class IntakeScreen:
    """The five pages about the arm."""

    def __init__(self, page: Page) -> None:
        self.on = page.locator("#page [data-on]")
        self.send = page.locator("#page [data-send]")
        self.before = page.locator("#page [data-act=before]")
        self.fault = page.locator("#page .intake [data-fault]")
        self.as_list = page.locator("#page [data-act=as_list]")
        self.high = page.locator("#page [data-high]")
        self.named = page.locator("#page [data-slot=named]")
        self._page = page

    def page_of(self, step: str) -> Locator:
        """The page of a step: where, mornings, activities, weights, rest."""
        return self._page.locator(f"#page section[data-step={step}]")

    def choice(self, name: str, value: str) -> Locator:
        """One place, weight, arm or the like, by its field and value."""
        return self._page.locator(f"#page label:has(input[name='{name}'][value='{value}'])")

    def field(self, name: str) -> Locator:
        """A field to write in, or to choose in."""
        return self._page.locator(f"#page [name='{name}']")


def answer_questions(phone: Phone) -> None:
    """Go through the safety questions with nothing ticked, from the day page and back to it."""
    phone.day.begin_questions.tap()
    screening = ScreeningScreen(phone.page)
    for level in LEVELS:
        expect(screening.page_of(level)).to_be_visible()
        screening.none.tap()
    expect(phone.day.title).to_be_visible()


def intake_screens(phone: Phone, take: Callable[[Page, str], None]) -> None:
    """Answer the pages about the arm, and send them; `take` takes a picture of each page."""
    page, intake = phone.page, IntakeScreen(phone.page)
    take(page, "phone-50-before-the-intake")
    phone.day.arriving.locator("a[href='#intake']").tap()
    intake.page_of("where").wait_for()
    intake.choice("arm", "left").tap()
    intake.choice("place", "outer_elbow").tap()
    take(page, "phone-51-where")
    intake.as_list.tap()
    take(page, "phone-51-where-as-list")
    intake.on.tap()
    intake.choice("usual", "6").tap()
    take(page, "phone-52-mornings")
    intake.choice("usual", "2").tap()
    intake.on.tap()
    intake.field("activity1").fill("Bowing")
    intake.field("rating1").select_option("4")
    take(page, "phone-53-activities")
    intake.on.tap()
    intake.choice("weight", "0.5").tap()
    take(page, "phone-54-weights")
    intake.on.tap()
    take(page, "phone-55-rest")
    intake.send.tap()
    expect(phone.day.title).to_be_visible()
    expect(phone.day.arriving.locator("a")).to_have_count(0)
    take(page, "phone-56-sent")


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
            screening.reported.wait_for()
            take(page, f"phone-02e-told-{level}")
            screening.take_back.tap()
            screening.page_of(level).wait_for()
        screening.none.tap()
    phone.day.start.wait_for()

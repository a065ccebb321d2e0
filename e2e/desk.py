"""The practitioner at the desk, as the stories use it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from playwright.sync_api import BrowserContext, Page, expect

from e2e.desk_pages import CaseloadPage, CasePage, IntakePage, RoutinePage, SignInPage
from tests.cast import HEDDA, Sufferer

AREAS = {"outer_elbow": "Outer elbow", "inner_elbow": "Inner elbow", "wrist": "Wrist"}
ARMS = {"right": "Right arm", "left": "Left arm"}
SEXES = {"male": "Male", "female": "Female", None: "Not said: the mean is used"}


@dataclass
class Desk:
    """A signed-in practitioner in one browser page."""

    page: Page

    @classmethod
    def signed_in(cls, context: BrowserContext) -> Desk:
        """Sign in as Hedda and stand before the caseload."""
        return cls.enter(context.new_page())

    @classmethod
    def enter(cls, page: Page) -> Desk:
        """Sign in on a page that is open already."""
        page.goto("/practice/")
        door = SignInPage(page)
        door.email.fill(HEDDA.email)
        door.password.fill(HEDDA.password)
        door.enter.click()
        expect(CaseloadPage(page).title).to_be_visible()
        return cls(page)

    @property
    def case(self) -> CasePage:
        """The open case."""
        return CasePage(self.page)

    def open_case(self, name: str) -> None:
        """Open one client's page from the caseload."""
        self.page.goto("/practice/")
        CaseloadPage(self.page).case(name).click()

    def take_on(self, client: Sufferer) -> None:
        """Add a client by the sheet, as their intake says; the routine is asked for next."""
        self.page.goto("/practice/add")
        sheet = IntakePage(self.page)
        sheet.screened.check()
        sheet.name.fill(client.name)
        for said in (AREAS[client.area], *(ARMS[arm] for arm in client.arms), SEXES[client.sex]):
            sheet.choice(said).check()
        sheet.mass.fill(str(client.mass_kg))
        sheet.height.fill(str(round(client.height_m * 100)))
        sheet.weights.fill("; ".join(f"{value} {unit}" for value, unit in client.weights if value))
        sheet.usual.fill(str(client.usual))
        sheet.add.click()

    def push(self, title: str) -> None:
        """Give the routine on the page a title, look at what it does, and push it."""
        sheet = RoutinePage(self.page)
        sheet.title.fill(title)
        sheet.look()
        sheet.push.click()

    def release(self, name: str, chosen: str, reason: str = "It was looked at and is calm.") -> None:
        """Release the one held arm of a client, to start again at a rung and a range, such as `1@0.75`."""
        self.open_case(name)
        self.case.release_choice.select_option(chosen)
        self.case.release_reason.fill(reason)
        self.case.release_talked.check()
        self.case.release.click()
        expect(self.case.release).not_to_be_visible()

    def release_seen(self, name: str, arm: str, seen_on: date) -> None:
        """Release one of a client's held arms, after a doctor has seen it, to the most that is offered."""
        self.open_case(name)
        hold = self.case.hold_of(arm)
        hold.choice.select_option(index=1)
        hold.reason.fill("A doctor has seen it, and it is calm.")
        hold.seen_by.select_option("doctor")
        hold.seen_on.fill(seen_on.isoformat())
        hold.talked.check()
        hold.release.click()
        expect(hold.release).not_to_be_visible()

    def finish(self, name: str, since: date, reason: str, seen_again_on: date) -> None:
        """End a client's course from a day on, with a day on which to be seen again."""
        self.open_case(name)
        form = self.case.course_form
        form.locator("xpath=ancestor::details[1]").locator("> summary").click()
        form.locator("[name=finish-course][value=ended]").check()
        form.locator("[name=finish-course_from]").fill(since.isoformat())
        form.locator("[name=finish-seen_again_on]").fill(seen_again_on.isoformat())
        form.locator("[name=finish-course_reason]").fill(reason)
        form.get_by_role("button").click()
        expect(self.page.locator("#finishing q").first).to_have_text(reason)

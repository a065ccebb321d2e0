"""The pages to read: what the stories press and read there, and their pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import Page

if TYPE_CHECKING:
    from e2e.camera import Camera
    from e2e.phone import Phone


class HandbookScreen:
    """The pages to read, their list and its search."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#handbook']")
        self.title = page.locator("body[data-screen=handbook] #page h1")
        self.rows = page.locator("#page [data-found] a")
        self.seek = page.locator("#seek")
        self.places = page.locator("#page [data-slot=places]")
        self.nothing = page.locator("#page [data-slot=nothing]")
        self.match = page.locator("#page .seek-place mark")
        self.caution = page.locator("#page .leaf-caution")
        self.sources = page.locator("#page .leaf-sources li")
        self.next = page.locator("#page .leaf + .button")
        self.back = page.locator("#page .back a")


class MovementScreen:
    """One movement explained."""

    def __init__(self, page: Page) -> None:
        self.title = page.locator("body[data-screen=movement] #page h1")
        self.where = page.locator("#page [data-slot=where]")
        self.pictures = page.locator("#page [data-picture] svg")
        self.play = page.locator("#page [data-act=play]")
        self.tempo = page.locator("#page [data-tempo] dd")
        self.purpose = page.locator("#page .movement-said > p").first
        self.leave_out = page.locator("#page .leaf-caution")
        self.next = page.locator("#page [data-next]")
        self.back = page.locator("#page [data-back]")


def reading_screens(phone: Phone, camera: Camera) -> None:
    """Take pictures of the handbook and of a movement."""
    page = phone.page
    HandbookScreen(page).way.tap()
    HandbookScreen(page).seek.wait_for()
    camera.take(page, "phone-24-handbook")
    for number in (0, 1, 5):
        HandbookScreen(page).rows.nth(number).tap()
        HandbookScreen(page).caution.wait_for()
        camera.take(page, f"phone-25-handbook-{number + 1}")
        HandbookScreen(page).back.tap()
    page.goto(f"{phone.shell}#movement?of=palm_down")
    MovementScreen(page).pictures.first.wait_for()
    camera.take(page, "phone-26-movement")

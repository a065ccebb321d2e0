"""The letters on the phone: what is on their page, and its pictures."""

from playwright.sync_api import Page

from e2e.camera import Camera
from e2e.phone import Phone


class LettersScreen:
    """The letters between the client and the practice."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#letters']")
        self.title = page.locator("body[data-screen=letters] #page h1")
        self.letters = page.locator("#page .letter")
        self.field = page.locator("#page textarea")
        self.urgent = page.locator("#page #letter-urgent")
        self.send = page.locator("#page form .do")
        self.fault = page.locator("#page form [data-fault]")
        self.take_back = page.locator("#page [data-act=take_back]:visible")
        self.answer = page.locator("#page [data-part=letters]")
        self.answer_read = self.answer.locator("[data-act=read]")


def letter_screens(phone: Phone, camera: Camera) -> None:
    """Write a letter without a network, and go on writing."""
    page, screen = phone.page, LettersScreen(phone.page)
    screen.way.tap()
    screen.field.fill("Is the strap for")
    camera.take(page, "phone-26-letters-first")
    screen.field.fill("Can I carry the shopping on a day of rest?")
    page.context.set_offline(True)
    screen.send.tap()
    screen.take_back.wait_for()
    screen.field.fill("Is the strap for")
    camera.take(page, "phone-27-letters")
    page.context.set_offline(False)

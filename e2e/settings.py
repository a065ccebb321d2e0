"""The settings and the page about one's own data: what the stories press and read there, and their pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import Locator, Page

if TYPE_CHECKING:
    from e2e.camera import Camera
    from e2e.phone import Phone


class SettingsScreen:
    """Every choice of this phone."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("body > nav a[href='#settings']")
        self.title = page.locator("body[data-screen=settings] #page h1")
        self.language = page.locator("#page [data-language] select")
        self.change_language = page.locator("#page [data-act=change_language]")
        self.language_told = page.locator("#page [data-slot=language]")
        self.data = page.locator("#page .rows a[href='#data']")
        self.sample = page.locator("#page [data-act=sample]")
        self.heard = page.locator("#page [data-act=heard]")
        self._page = page

    def choice(self, name: str, value: str) -> Locator:
        """One of the answers to a question, by its name and its value."""
        return self._page.locator(f"#page input[name={name}][value={value}]")

    def seconds(self, name: str) -> Locator:
        """How long something takes in a session."""
        return self._page.locator(f"#page input[data-time={name}]")


class DataScreen:
    """Taking one's data along, and leaving."""

    def __init__(self, page: Page) -> None:
        self.title = page.locator("body[data-screen=data] #page h1")
        self.save_page = page.locator("#page [data-act=save_page]")
        self.save_table = page.locator("#page [data-act=save_table]")
        self.save_all = page.locator("#page [data-act=save_file]")
        self.waiting = page.locator("#page [data-slot=waiting]")
        self.leave = page.locator("#page [data-act=leave]")
        self.count = page.locator("#page [data-leave] .fault")
        self.blocked = page.locator("#page [data-slot=blocked]")
        self.save_first = page.locator("#page [data-act=save_first]")
        self.leave_now = page.locator("#page [data-act=leave_now]")
        self.ask = page.locator("#page [data-act=ask_to_leave]")
        self.question = page.locator("#page [data-slot=asked]")
        self.show_code = page.locator("#page [data-act=code]")
        self.code = page.locator("#page [data-slot=code]")


class RemindersScreen:
    """The times for the phone's own calendar."""

    def __init__(self, page: Page) -> None:
        self.way = page.locator("#page .rows a[href='#reminders']")
        self.title = page.locator("body[data-screen=reminders] #page h1")
        self.make = page.locator("#page .times button")
        self.made = page.locator("#page [data-slot=made]")
        self.fault = page.locator("#page [data-fault]")
        self.make_address = page.locator("#page [data-act=feed]")
        self.address = page.locator("#page [data-slot=address]")
        self.end_address = page.locator("#page [data-act=end_feed]")
        self.address_fault = page.locator("#page [data-slot=feed_fault]")
        self._page = page

    def time(self, name: str) -> Locator:
        """One of the times."""
        return self._page.locator(f"#page .times [name={name}]")


def settings_screens(phone: Phone, camera: Camera) -> None:
    """Take pictures of the settings, and of leaving with entries that were not sent."""
    page = phone.page
    SettingsScreen(page).way.tap()
    SettingsScreen(page).title.wait_for()
    camera.take(page, "phone-27-settings")
    RemindersScreen(page).way.tap()
    RemindersScreen(page).title.wait_for()
    camera.take(page, "phone-30-reminders")
    SettingsScreen(page).way.tap()
    SettingsScreen(page).data.tap()
    DataScreen(page).title.wait_for()
    camera.take(page, "phone-28-data")
    DataScreen(page).leave.tap()
    DataScreen(page).leave_now.wait_for()
    camera.take(page, "phone-29-leave")

"""Draws every screen of the demo, phone and desk, as pictures to be looked at, and lays them all on one sheet.

    .venv/bin/python -m e2e.every_screen FOLDER                     every screen, light, on a phone of 390x844 and a desk of 1440
    .venv/bin/python -m e2e.every_screen FOLDER --size 360x640 --scheme dark --text 2 --only session

It serves the demo's practice from a database of its own.
"""

import argparse
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from e2e.conftest import ARGS, chromium_path
from e2e.contact_sheet import demo
from e2e.desk_pages import InvitationPage, RoutinePage
from e2e.phone import Phone
from e2e.reading import reading_screens
from e2e.screens import PhoneScreen, SessionScreen, SharpScreen
from e2e.server import Server
from e2e.sizes import phone_options
from webapp.records.database import open_records, write
from webapp.rulebook.book import gather, work_out
from webapp.rulebook.page import page_of

FIRST_EVENING = datetime.now(UTC).replace(hour=18, minute=0) - timedelta(days=2)
PAIN = {"left": 1}
SHEET = """body { display: flex; flex-wrap: wrap; align-items: flex-start; gap: 16px; background: #777; margin: 16px }
figure { margin: 0; font: 14px sans-serif; max-height: 900px; overflow: hidden } img { zoom: 0.34; display: block }"""


@dataclass(frozen=True)
class Camera:
    """Where the pictures go, and which of them are wanted."""

    folder: Path
    only: str

    def take(self, page: Page, name: str, *, is_whole: bool = True) -> None:
        """Take the picture of a page, the part of it that is below the window too."""
        if re.search(self.only, name):
            page.screenshot(path=self.folder / f"{name}.png", full_page=is_whole)


def phone_screens(phone: Phone, token: str, camera: Camera) -> None:
    """Go through the phone's screens in the order in which a client meets them."""
    page = phone.page
    page.goto("/")
    camera.take(page, "phone-01-front")
    page.goto(f"/join#{token}")
    page.locator("[data-join]").wait_for()
    camera.take(page, "phone-02-invitation")
    phone.join_by_link(token)
    camera.take(page, "phone-03-first-day")
    session = phone.open_session()
    camera.take(page, "phone-04-before-the-start", is_whole=False)
    session.ways.tap()
    camera.take(page, "phone-05-ways")
    _session_screens(phone, camera)
    _after_screens(phone, camera)
    page.goto(f"{phone.shell}#warnings")
    page.locator(".sign").first.wait_for()
    camera.take(page, "phone-20-warnings")
    PhoneScreen(page).way.tap()
    page.locator("[data-leave]").wait_for()
    camera.take(page, "phone-21-this-phone")
    reading_screens(phone, camera)
    page.goto(f"{phone.shell}#home")
    camera.take(page, "phone-22-home-screen")
    page.goto(f"{phone.shell}#join")
    camera.take(page, "phone-23-link")


def _session_screens(phone: Phone, camera: Camera) -> None:
    page, session = phone.page, SessionScreen(phone.page)
    phone.begin_session()
    phone.play(8)
    camera.take(page, "phone-06-warm-up", is_whole=False)
    phone.skip_to("reps")
    phone.play(22)
    camera.take(page, "phone-07-set", is_whole=False)
    session.ease_off.tap()
    camera.take(page, "phone-08-ease", is_whole=False)
    session.easing("form").tap()
    session.main.tap()
    camera.take(page, "phone-09-paused", is_whole=False)
    session.main.tap()
    phone.skip_to("rest")
    phone.play(2)
    camera.take(page, "phone-10-rest", is_whole=False)
    phone.skip_to("hold")
    phone.play(9)
    camera.take(page, "phone-11-stretch", is_whole=False)
    session.stop.tap()
    camera.take(page, "phone-12-why", is_whole=False)
    session.why("time").tap()


def _after_screens(phone: Phone, camera: Camera) -> None:
    page, session = phone.page, SessionScreen(phone.page)
    page.locator(".after form").wait_for()
    camera.take(page, "phone-13-after")
    phone.rate(PAIN)
    phone.open()
    camera.take(page, "phone-14-done")
    phone.sleep_until_morning()
    camera.take(page, "phone-15-morning")
    phone.report_morning(PAIN)
    phone.open()
    camera.take(page, "phone-16-day")
    _between_sessions(phone, camera)
    phone.begin_session()
    phone.skip_to("reps")
    session.sharp.tap()
    SharpScreen(page).title.wait_for()
    camera.take(page, "phone-17-sharp")
    SharpScreen(page).leave.tap()
    phone.day.stop.wait_for()
    camera.take(page, "phone-18-stopped")


def _between_sessions(phone: Phone, camera: Camera) -> None:
    """Do a part of the day's first session, and look at the time until the second."""
    phone.begin_session()
    phone.skip_to("reps")
    phone.play(22)
    SessionScreen(phone.page).stop.tap()
    SessionScreen(phone.page).why("time").tap()
    phone.rate(PAIN)
    phone.day.early.wait_for()
    camera.take(phone.page, "phone-24-between-sessions")
    phone.day.early.tap()
    camera.take(phone.page, "phone-25-too-early")


def desk_screens(page: Page, camera: Camera) -> None:
    """Go through the desk's pages."""
    page.goto("/practice/")
    camera.take(page, "desk-01-sign-in")
    page.locator("main form button").first.click()
    camera.take(page, "desk-01-sign-in-faults")
    page.locator("[name=email]").fill("orla@venn.example")
    page.locator("[name=password]").fill("four slow bells")
    page.keyboard.press("Enter")
    expect(page.locator(".ledger")).to_be_visible()
    camera.take(page, "desk-02-caseload")
    page.goto("/practice/")
    cases = [link.get_attribute("href") for link in page.locator(".case-line h2 a").all()]
    for number, case in enumerate(cases):
        page.goto(case)
        camera.take(page, f"desk-1{number}-case")
        for link in [each.get_attribute("href") for each in page.locator("main a[href*='/practice/']").all()]:
            if link and link.startswith(case) and "#" not in link and number in (0, len(cases) - 1):
                page.goto(link)
                camera.take(page, f"desk-2{number}-{link.rstrip('/').rsplit('/', 1)[-1]}")
    if page.locator("html").get_attribute("lang") == "en":
        _acts(page, camera, cases)
    page.goto("about:blank")
    page.set_content(page_of(gather(work_out(clients=10))))
    camera.take(page, "desk-50-rule-book")


def _acts(page: Page, camera: Camera, cases: list[str | None]) -> None:
    """What the desk answers to is pressed by its English words."""
    held, newcomer = f"{cases[0]}", f"{cases[-1]}"
    page.goto("/practice/add")
    camera.take(page, "desk-30-add")
    page.get_by_role("button", name="Add the client").click()
    camera.take(page, "desk-31-add-faults")
    page.goto(held)
    page.get_by_role("button", name="Release the hold").click()
    camera.take(page, "desk-32-release-faults")
    page.goto(newcomer)
    for number, kind in enumerate(("link", "short code"), 33):
        page.get_by_role("button", name=f"Make a {kind}").click()
        camera.take(page, f"desk-{number}-invitation")
        InvitationPage(page).done.click()
    page.goto(f"{cases[2]}/routine")
    sheet = RoutinePage(page)
    sheet.note.fill("The work is fine. We go one step down this week.")
    sheet.most_reps.fill("twenty")
    sheet.preview.click()
    camera.take(page, "desk-35-routine-faults")
    sheet.most_reps.fill("16")
    sheet.start_rung.fill("5")
    page.get_by_label("Weights at home").fill("1 kg; 3 kg; 4.5 kg")
    sheet.preview.click()
    camera.take(page, "desk-36-preview")


def speak(server: Server, language: str) -> None:
    """Give every client and the practitioner a language."""
    db = open_records(server.db_path)
    with write(db):
        for table in ("clients", "practitioners"):
            db.execute(f"UPDATE {table} SET locale = ?", (language,))
    db.conn.close()


@contextmanager
def served(language: str) -> Iterator[tuple[Server, str]]:
    """Serve the demo in a language beside English; its server, and the token of its newcomer's link."""
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder))
        server.settings["HALFTURN_LOCALES"] = ",".join(dict.fromkeys(("en", language)))
        token = demo(server)
        speak(server, language)
        server.start()
        try:
            yield server, token
        finally:
            server.kill()


def larger_text(page: Page, times: float) -> None:
    """Show all words larger, as a reader's own setting does."""
    page.add_init_script(
        f"addEventListener('DOMContentLoaded', () => document.documentElement.style.setProperty('font-size', '{100 * times}%'))"
    )


def main(words: list[str]) -> int:
    """Draw what is asked for."""
    asked = _arguments(words)
    asked.folder.mkdir(parents=True, exist_ok=True)
    width, height = map(int, asked.size.split("x"))
    camera = Camera(asked.folder, asked.only)
    with sync_playwright() as engine, served(asked.language) as (server, token):
        browser = engine.chromium.launch(executable_path=chromium_path(), args=list(ARGS))
        for part in filter(lambda each: asked.part in ("", each), PARTS):
            PARTS[part](browser, server, token, camera, asked, (width, height))
        lay_out(browser, asked.folder)
        browser.close()
    return 0


def lay_out(browser: Browser, folder: Path) -> None:
    """Lay all pictures of a folder on one sheet, `all.png`, each at a third of its size under its name."""
    pictures = sorted(path.name for path in folder.glob("*.png") if path.name != "all.png")
    figures = "".join(f"<figure><img src='{name}'><figcaption>{name}</figcaption></figure>" for name in pictures)
    sheet = folder / "all.html"
    sheet.write_text(f"<!doctype html><meta charset='utf-8'><style>{SHEET}</style>{figures}", encoding="utf-8")
    page = browser.new_page(viewport={"width": 2000, "height": 1000})
    page.goto(sheet.as_uri())
    page.screenshot(path=folder / "all.png", full_page=True)


def _phone(
    browser: Browser, server: Server, token: str, camera: Camera, asked: argparse.Namespace, size: tuple
) -> None:
    options = {**phone_options(*size, scheme=asked.scheme), "device_scale_factor": 1}
    options["locale"] = _browser_of(asked)
    phone = Phone.switched_on(browser.new_context(**options, base_url=server.origin), FIRST_EVENING, asked.language)
    if asked.text != 1:
        larger_text(phone.page, asked.text)
    phone_screens(phone, token, camera)


def _browser_of(asked: argparse.Namespace) -> str:
    return "en-GB" if asked.language == "en" else asked.language


def _desk(
    browser: Browser, server: Server, _token: str, camera: Camera, asked: argparse.Namespace, _size: tuple
) -> None:
    viewport = {"width": asked.desk, "height": 900}
    page = browser.new_context(
        viewport=viewport, color_scheme=asked.scheme, base_url=server.origin, locale=_browser_of(asked)
    ).new_page()
    if asked.text != 1:
        larger_text(page, asked.text)
    desk_screens(page, camera)


PARTS: dict[str, Callable] = {"phone": _phone, "desk": _desk}


def _arguments(words: list[str]) -> argparse.Namespace:
    reader = argparse.ArgumentParser(prog="python -m e2e.every_screen", description="Draws every screen of the demo.")
    reader.add_argument("folder", type=Path, help="where the pictures go")
    reader.add_argument("--size", default="390x844", help="the phone's width and height")
    reader.add_argument("--desk", type=int, default=1440, help="the desk's width")
    reader.add_argument("--language", default="en", help="the tag of the language, such as es or en-XA")
    reader.add_argument("--scheme", default="light", choices=("light", "dark"))
    reader.add_argument("--text", type=float, default=1, help="how many times larger the words are")
    reader.add_argument("--part", default="", choices=("", "phone", "desk"))
    reader.add_argument("--only", default="", help="a pattern of the names of the pictures")
    return reader.parse_args(words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Draws, on second phones of the demo's clients, the pages about the past, and the day page of those in maintenance and at the end."""

import argparse
from datetime import UTC, datetime

from playwright.sync_api import Browser, expect

from e2e.arriving import answer_questions, intake_screens
from e2e.camera import Camera
from e2e.past_pages import ClosingScreen, EarlierScreen, WeeksScreen
from e2e.phone import Phone
from e2e.server import Server
from e2e.sizes import larger_text, phone_options
from e2e.way_screens import open_a_way, way_screens
from webapp.records import cases, invitations
from webapp.records.database import open_records
from webapp.sync.case.told_intake import TOLD_LATER

CLIENT, BY_NAME = "sanna-pruett", "drawn-by-name"
FINISHING = {"ottmar-wyle": "phone-40-maintenance", "brisa-calloway": "phone-41-ended"}


def past(
    browser: Browser, server: Server, _token: str, camera: Camera, wanted: argparse.Namespace, size: tuple[int, int]
) -> None:
    """Join a phone as the client of twelve weeks, and take a picture of each page about the past."""
    phone = _joined(browser, server, CLIENT, wanted, size)
    page, weeks = phone.page, WeeksScreen(phone.page)
    page.goto(f"{phone.shell}#weeks")
    expect(weeks.whole).to_be_visible()
    expect(weeks.drawings.nth(2)).to_be_visible()
    camera.take(page, "phone-30-weeks")
    weeks.earlier.tap()
    expect(weeks.drawings.nth(2)).to_be_visible()
    camera.take(page, "phone-31-weeks-earlier")
    weeks.tables.first.tap()
    camera.take(page, "phone-32-weeks-table")
    page.goto(f"{phone.shell}#earlier")
    earlier = EarlierScreen(page)
    for number in range(33, 36):
        expect(earlier.sessions.first).to_be_visible()
        camera.take(page, f"phone-{number}-earlier")
        earlier.before.tap()


def finishing(
    browser: Browser, server: Server, _token: str, camera: Camera, wanted: argparse.Namespace, size: tuple[int, int]
) -> None:
    """Join a phone as the client in maintenance and as the one who has finished; draw the day, the weeks and the summary of each."""
    for client, name in FINISHING.items():
        phone = _joined(browser, server, client, wanted, size)
        expect(phone.day.finishing).to_be_visible()
        camera.take(phone.page, name)
        phone.page.goto(f"{phone.shell}#weeks")
        expect(WeeksScreen(phone.page).whole).to_be_visible()
        camera.take(phone.page, f"{name}-weeks")
        phone.page.goto(f"{phone.shell}#closing")
        expect(ClosingScreen(phone.page).whole).to_be_visible()
        camera.take(phone.page, f"{name}-summary")
        phone.page.goto(f"{phone.shell}#reminders")
        camera.take(phone.page, f"{name}-reminders")


def returning(
    browser: Browser, server: Server, _token: str, camera: Camera, wanted: argparse.Namespace, size: tuple[int, int]
) -> None:
    """Open a way back for the client of twelve weeks, join a phone, and draw the page of it."""
    open_a_way(server)
    way_screens(_joined(browser, server, CLIENT, wanted, size), camera.take)


def intake(
    browser: Browser, server: Server, _token: str, camera: Camera, chosen: argparse.Namespace, size: tuple[int, int]
) -> None:
    """Join a phone as a client of whom only the name is known, and take a picture of each page of the intake."""
    db, now = open_records(server.db_path), datetime.now(UTC)
    (practitioner,) = db.execute("SELECT id FROM practitioners ORDER BY id LIMIT 1").fetchone()
    cases.add(db, practitioner, BY_NAME, "Runa Feld", chosen.language, TOLD_LATER, now)
    db.conn.close()
    phone = _joined(browser, server, BY_NAME, chosen, size)
    answer_questions(phone)
    intake_screens(phone, camera.take)


def _joined(browser: Browser, server: Server, client: str, wanted: argparse.Namespace, size: tuple[int, int]) -> Phone:
    """A phone that has just joined as a client of the demo."""
    options = {**phone_options(*size, scheme=wanted.scheme), "device_scale_factor": 1, "locale": wanted.language}
    context = browser.new_context(**options, base_url=server.origin)
    phone = Phone.switched_on(context, datetime.now(UTC), wanted.language)
    if wanted.text != 1:
        larger_text(phone.page, wanted.text)
    phone.join_by_link(link_of(server, client))
    return phone


def link_of(server: Server, public_id: str) -> str:
    """Return the token of a new invitation link of a client."""
    db = open_records(server.db_path)
    (client,) = db.execute("SELECT id FROM clients WHERE public_id = ?", (public_id,)).fetchone()
    token = invitations.make_link(db, client, datetime.now(UTC)).token
    db.conn.close()
    return token

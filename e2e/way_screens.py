"""The page of a way back on a phone: before an outing, its steps, after it, and on the day after."""

from collections.abc import Callable
from datetime import UTC, datetime

from playwright.sync_api import Page, expect

from e2e.phone import DAY_STARTS, Phone
from e2e.server import Server
from webapp.records.database import open_records
from webapp.sync.case.way_back import put_way, seal
from webapp.sync.folding.returning import told_ways

CLIENT, LADDER, STEP = "sanna-pruett", "racket", 2
ACHE = 3


class WayScreen:
    """The page of the way back."""

    def __init__(self, page: Page) -> None:
        self.line = page.locator("#page [data-part=later] [data-way]")
        self.screen = page.locator("body[data-screen=returning] #page")
        self.state = self.screen.locator("[data-slot=state]")
        self.question = self.screen.locator("[data-told] > summary")
        self.worst = self.screen.locator(f"[data-arms] input[value='{ACHE}']")
        self.save = self.screen.locator("form button[type=submit]")
        self.steps = self.screen.locator("details:has([data-steps]) > summary")


def open_a_way(server: Server) -> None:
    """Open a way back today for the client of twelve weeks, as the desk does once the gate is met."""
    db, now = open_records(server.db_path), datetime.now(UTC)
    (client,) = db.execute("SELECT id FROM clients WHERE public_id = ?", (CLIENT,)).fetchone()
    body = {
        "ladder": LADDER,
        "step": STEP,
        "gate": [],
        "reason": "Calm for weeks. A little, and slowly.",
        "by": "Hedda Marrow",
    }
    put_way(db, client, "return_opened", (now - DAY_STARTS).date(), body, seal(told_ways(db, client)), now=now)
    db.conn.close()


def way_screens(phone: Phone, take: Callable[[Page, str], None]) -> None:
    """Go through the page of the way back on a phone that has joined as that client."""
    page, way = phone.page, WayScreen(phone.page)
    _open(phone, way)
    take(page, "phone-42-way")
    way.steps.tap()
    take(page, "phone-43-way-steps")
    if not way.save.is_visible():
        way.question.tap()
    for number in range(way.worst.count()):
        way.worst.nth(number).tap()
    way.save.tap()
    expect(way.line).to_be_visible()
    take(page, "phone-44-way-on-the-day")
    _open(phone, way)
    take(page, "phone-45-way-noted")
    phone.sleep_until_morning()
    _open(phone, way)
    take(page, "phone-46-way-the-day-after")


def _open(phone: Phone, way: WayScreen) -> None:
    phone.page.goto(f"{phone.shell}#returning")
    expect(way.state).to_be_visible()

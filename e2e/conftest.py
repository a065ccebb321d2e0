"""What every story starts from: a served practice, a browser, and a phone of each size."""

import os
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Playwright, expect, sync_playwright

from e2e.phone import Phone
from e2e.practice import Practice
from e2e.server import Server
from tests.builders import empty_records

ARGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SIZES = ((360, 640), (390, 844))
WAIT_MILLISECONDS = 30_000
STORY_TIME = time(18, 0)
DAYS_BACK = timedelta(days=6)

# A busy machine is waited for; what is not going to come fails all the same.
expect.set_options(timeout=WAIT_MILLISECONDS)


def chromium_path() -> str:
    """The browser that these stories run in; tests/run.py names one, a hand-started pytest finds one on PATH."""
    found = os.environ.get("CHROMIUM_PATH") or next(filter(None, map(shutil.which, ("chromium", "google-chrome"))), "")
    assert found, "no Chromium: start these stories with python3 tests/run.py e2e, which finds or installs one"
    return found


@pytest.fixture(scope="session")
def engine() -> Iterator[Playwright]:
    """Playwright, running."""
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def browser(engine: Playwright) -> Iterator[Browser]:
    """One Chromium for all stories; each story has contexts of its own."""
    launched = engine.chromium.launch(executable_path=chromium_path(), args=list(ARGS))
    yield launched
    launched.close()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    """A server with a database of its own, up."""
    served = Server(tmp_path)
    empty_records(served.db_path).conn.close()
    served.start()
    yield served
    served.kill()


@pytest.fixture
def evening() -> datetime:
    """When the stories begin: an evening some days back, since the server's own clock stays as it is."""
    return datetime.combine(datetime.now(UTC).date() - DAYS_BACK, STORY_TIME, UTC)


@pytest.fixture
def practice(server: Server) -> Practice:
    """Hedda's practice with nobody in it yet."""
    return Practice.opened(server)


def phone_options(width: int, height: int, scheme: str = "light") -> dict:
    """How a phone of this size differs from a desk."""
    return {
        "viewport": {"width": width, "height": height},
        "device_scale_factor": 2,
        "is_mobile": True,
        "has_touch": True,
        "locale": "en-GB",
        "timezone_id": "UTC",
        "color_scheme": scheme,
    }


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def phone(request: pytest.FixtureRequest, browser: Browser, server: Server, evening: datetime) -> Iterator[Phone]:
    """A phone of each size, its clock in our hands and running."""
    context = browser.new_context(**phone_options(*request.param), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield Phone.switched_on(context, evening)
    context.close()


@pytest.fixture
def one_phone(browser: Browser, server: Server, evening: datetime) -> Iterator[Phone]:
    """A phone of the usual size, for stories in which nothing depends on the size."""
    context = browser.new_context(**phone_options(*SIZES[-1]), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield Phone.switched_on(context, evening)
    context.close()


@pytest.fixture
def desk(browser: Browser, server: Server) -> Iterator[BrowserContext]:
    """The practitioner's own computer."""
    size = {"width": 1200, "height": 900}
    context = browser.new_context(viewport=size, locale="en-GB", timezone_id="UTC", base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield context
    context.close()

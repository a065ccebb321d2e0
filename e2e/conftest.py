"""What every story starts from: a served practice, a browser, and a phone of each size."""

import os
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, time, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Playwright, expect, sync_playwright

from e2e.joined import Joins
from e2e.phone import Phone
from e2e.practice import Practice
from e2e.server import Server, servers_day
from e2e.sizes import EACH_SIZE, WAIT_MILLISECONDS, phone_options
from tests.builders import Enrolled
from tests.cast import Sufferer

# The browser's own address line is drawn by pages of its own, in one more process for each story; nobody looks at it here.
# Of several such lists the last counts, so Playwright's own stands in it again (1.65.2, coreBundle.js, `disabledFeatures`).
DISABLED = (
    "WebUIOmniboxPopup",
    "WebUIOmniboxAimPopup",
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable",
    "LensOverlay",
    "MediaRouter",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "OptimizationHints",
    "NetworkTimeServiceQuerying",
    "AimEnabled",
    "PreconnectToSearch",
)
ARGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # One process for the pages of a context, and none in store for pages to come.
    "--renderer-process-limit=1",
    f"--disable-features={','.join(DISABLED)}",
)
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


@pytest.fixture(scope="session")
def evening() -> datetime:
    """When the stories begin: an evening some days back, since the server's own clock stays as it is."""
    return datetime.combine(servers_day() - DAYS_BACK, STORY_TIME, UTC)


@pytest.fixture(scope="session")
def joins(browser: Browser, tmp_path_factory: pytest.TempPathFactory, evening: datetime) -> Joins:
    """What phones and records held when each kind of client had joined."""
    return Joins(browser, tmp_path_factory.mktemp("joins"), evening)


@pytest.fixture
def server(request: pytest.FixtureRequest, tmp_path: Path, joins: Joins) -> Iterator[Server]:
    """A server with a database of its own, up; one whose clients are put there by `joined` starts with them."""
    served = Server(tmp_path)
    joins.put_nobody(served.db_path)
    if "joined" not in request.fixturenames:
        served.start()
    yield served
    served.kill()


@pytest.fixture
def practice(server: Server) -> Practice:
    """Hedda's practice with nobody in it yet."""
    return Practice.opened(server)


@pytest.fixture
def joined(practice: Practice, joins: Joins) -> Callable[[Phone, Sufferer], Enrolled]:
    """Call it first: a new phone and the practice are then where they are when this client has joined."""
    return lambda phone, client: joins.put(phone, practice, client)


@pytest.fixture(params=EACH_SIZE)
def phone(request: pytest.FixtureRequest, browser: Browser, server: Server, evening: datetime) -> Iterator[Phone]:
    """A phone of each size (the small one in the long trials), its clock in our hands and running."""
    context = browser.new_context(**phone_options(*request.param), base_url=server.origin)
    context.set_default_timeout(WAIT_MILLISECONDS)
    yield Phone.switched_on(context, evening)
    context.close()


@pytest.fixture
def one_phone(browser: Browser, server: Server, evening: datetime) -> Iterator[Phone]:
    """A phone of the usual size, for stories in which nothing depends on the size."""
    context = browser.new_context(**phone_options(), base_url=server.origin)
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

"""How soon a phone with no network shows the day's dose, and answers a tap: a real Chromium, cold and slowed.

Method. A server process serves one invented client with so many days of log. Chromium joins with a profile on the disk, waits until
app and log are on the phone, and is closed; the server is stopped, so that there is no network. Then, round by round, a new browser
process opens the app from that profile with the page's main thread slowed, and notes when the dose was painted, from the start of
the navigation. Two taps follow: one that marks something on the day page, and Start. The floor is the same page in the same
profile with its scripts switched off: what the browser alone needs to open it.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import BrowserContext, Playwright, sync_playwright

from webapp.bench.listening import throttle
from webapp.bench.served import served_client
from webapp.bench.session import PHONE, QUIET
from webapp.words import Words
from webapp.words import bench as say

DAYS, ROUNDS, THROTTLE = (0, 406, 2002), 5, 6
"""Days of log: whole fortnights of the invented diary, after which the day asks for a session."""
BUDGETS = {"start_ms": 800, "tap_ms": 100}
APP = "/app/en/"
PROBE = (Path(__file__).parent / "start_probe.js").read_text(encoding="utf-8")
PAINTED = "() => performance.getEntriesByType('paint').map((entry) => entry.startTime).at(-1) ?? null"
PATIENCE_MS = 120_000


def bench_start(
    words: Words, chromium: str, days: tuple[int, ...] = DAYS, rounds: int = ROUNDS, times: int = THROTTLE
) -> dict[str, Any]:
    """Start the app cold and offline, again and again, and tell how long it took.

    Args:
        words: The language of the sentences in the answer.
        chromium: The browser's path.
        days: Lengths of the log, each measured by itself.
        rounds: How many starts of each.
        times: How many times slower the page's processor is made, 1 or more.

    Returns:
        For each length the medians in ms, and the start as a multiple of the floor of the same run.
    """
    with sync_playwright() as engine:
        measured = {str(length): _measured(engine, chromium, length, rounds, times) for length in days}
    load = [round(each, 1) for each in os.getloadavg()]
    method = [words.say(line) for line in say.START_METHOD]
    return {
        "method": method,
        "rounds": rounds,
        "slowed_times": times,
        "budgets": BUDGETS,
        "load": load,
        "days_of_log": measured,
    }


def _measured(engine: Playwright, chromium: str, days: int, rounds: int, times: int) -> dict[str, Any]:
    with TemporaryDirectory() as folder:
        profile = Path(folder) / "profile"
        with served_client(days) as (origin, token), _browser(engine, chromium, profile, origin) as context:
            _join(context, token)
        seen = [_start(engine, chromium, profile, origin, times) for _ in range(rounds)]
        floors = [_floor(engine, chromium, profile, origin, times) for _ in range(rounds)]
    start, floor = median(each["start"] for each in seen), median(floors)
    return {
        "start_ms": round(start),
        "start_ms_each": [round(each["start"]) for each in seen],
        "floor_ms": round(floor),
        "start_times_the_floor": round(start / floor, 2),
        "tap_ms": round(median(each["tap"] for each in seen)),
        "start_tap_ms": round(median(each["start_tap"] for each in seen)),
    }


@contextmanager
def _browser(engine: Playwright, chromium: str, profile: Path, origin: str) -> Iterator[BrowserContext]:
    context = engine.chromium.launch_persistent_context(
        profile, executable_path=chromium, args=list(QUIET), base_url=origin, locale="en-GB", **PHONE
    )
    context.set_default_timeout(PATIENCE_MS)
    try:
        yield context
    finally:
        context.close()


def _join(context: BrowserContext, token: str) -> None:
    page = context.new_page()
    page.goto(f"/join#{token}")
    page.locator("[data-join]").click()
    page.locator("[data-part=session] [data-act=start]").wait_for()
    page.locator("[data-is-kept=true]").wait_for(state="attached")
    page.close()


def _start(engine: Playwright, chromium: str, profile: Path, origin: str, times: int) -> dict[str, float]:
    with _browser(engine, chromium, profile, origin) as context:
        context.add_init_script(PROBE)
        page = context.new_page()
        throttle(context, page, times)
        page.goto(APP)
        page.wait_for_function("() => halfturnStart.dose")
        mark = page.locator("[data-part=later] button").first
        mark.scroll_into_view_if_needed()
        mark.click()
        page.wait_for_function("() => halfturnStart.marked === 1")
        mark.click()
        page.wait_for_function("() => halfturnStart.marked === 2")
        page.locator("[data-part=session] [data-act=start]").click()
        page.wait_for_function("() => halfturnStart.session")
        times_seen: dict[str, float] = page.evaluate("() => halfturnStart.times()")
        return times_seen


def _floor(engine: Playwright, chromium: str, profile: Path, origin: str, times: int) -> float:
    with _browser(engine, chromium, profile, origin) as context:
        page = context.new_page()
        throttle(context, page, times)
        context.new_cdp_session(page).send("Emulation.setScriptExecutionDisabled", {"value": True})
        page.goto(APP)
        page.wait_for_timeout(1000)
        painted: float = page.evaluate(PAINTED)
        return painted

"""Records a browser page while it plays a session. Knows Playwright and the app's addresses; measures nothing."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from webapp.packing import plain_script

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

HERE = Path(__file__).parent
EAR = "/halfturn_onset_ear.js"
# The app's own modules that are asked; the page holds them in packed form only.
ASKED = ("edges/clock.js", "edges/storage/store.js", "pure/session/cue_times.js")
STEPS_AND_CUES = """async () => {
  const { createClock, createStore, cueTimes } = halfturnModules;
  const { plan: { steps } } = await createStore(createClock(), () => {}).loadRun();
  return { steps, cues: cueTimes(steps).map(({ atMs }) => atMs) };
}"""
HAS_PLAYED = """(seconds) => {
  const last = halfturnHeard.saved.at(-1);
  return Boolean(last && (last.activeMs >= seconds * 1000 || last.ended));
}"""
TAIL_SECONDS = 60
FLOOR_EVERY_MS = 250


def listen_in(context: "BrowserContext") -> None:
    """Add the probe to every page that the context opens from now on."""
    context.add_init_script(path=HERE / "session_probe.js")
    context.add_init_script(plain_script(ASKED, "halfturnModules"))
    ear = (HERE / "onset_ear.js").read_text(encoding="utf-8")
    context.route(f"**{EAR}", lambda route: route.fulfill(body=ear, content_type="text/javascript"))


def throttle(context: "BrowserContext", page: "Page", times: int) -> None:
    """Make the page's processor `times` times slower; 1 changes nothing."""
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})


def floor_of(context: "BrowserContext", count: int, times: int = 1) -> list[float]:
    """Return how late, in ms, a bare page with a moving picture writes a text, `count` times, slowed by the same factor."""
    page = context.new_page()
    page.goto("/")
    throttle(context, page, times)
    late: list[float] = page.evaluate("([count, every]) => halfturnFloor(count, every)", [count, FLOOR_EVERY_MS])
    page.close()
    return late


def join_and_start(page: "Page", token: str) -> None:
    """Accept an invitation, open the app and start today's session by the two presses a client makes."""
    page.goto(f"/join#{token}")
    page.locator("[data-join]").click()
    page.locator("[data-part=session] [data-act=start]").click()
    running = page.locator(".session[data-status=running]")
    main = page.locator(".session [data-act=main]")
    main.wait_for()
    if not running.is_visible():
        main.click()
    running.wait_for()


def heard_in(page: "Page", seconds: int) -> dict[str, Any]:
    """Let a running session go on to a second of its cue sheet, or to its end.

    Returns:
        All that the probe recorded, with the `steps` and `cues` of the session.
    """
    page.wait_for_function(HAS_PLAYED, arg=seconds, timeout=(seconds + TAIL_SECONDS) * 1000, polling=500)
    return {**page.evaluate("() => halfturnHeard"), **page.evaluate(STEPS_AND_CUES)}

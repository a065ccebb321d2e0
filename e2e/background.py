"""A browser as it is on a phone in a pocket: pages are really hidden, frozen and killed, which a driven context never lets happen."""

import os
import signal
import subprocess
import time
from pathlib import Path

from playwright.sync_api import CDPSession, Page, Playwright

from e2e.conftest import ARGS, chromium_path
from e2e.sizes import WAIT_MILLISECONDS
from e2e.sources import modules

START_SECONDS = 20
PHONE = {"width": 390, "height": 844, "deviceScaleFactor": 2, "mobile": True}


class OwnBrowser:
    """One Chromium process on a profile that outlives it, and one page of it."""

    def __init__(self, engine: Playwright, profile: Path) -> None:
        self._engine, self._profile = engine, profile
        self.process: subprocess.Popen[bytes] | None = None
        self.page: Page
        self._cdp: CDPSession

    def start(self) -> Page:
        """Start the browser, and give its page."""
        port_file = self._profile / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        command = [chromium_path(), "--headless", "--no-sandbox", *ARGS, "--mute-audio", "--remote-debugging-port=0"]
        self.process = subprocess.Popen(
            [*command, f"--user-data-dir={self._profile}", "about:blank"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True,
        )  # fmt: skip
        browser = self._engine.chromium.connect_over_cdp(_address(port_file), no_defaults=True, is_local=True)
        context = browser.contexts[0]
        context.set_default_timeout(WAIT_MILLISECONDS)
        context.add_init_script(modules())
        self.page = context.pages[0]
        self._cdp = context.new_cdp_session(self.page)
        self._cdp.send("Emulation.setDeviceMetricsOverride", PHONE)
        return self.page

    def hide(self) -> None:
        """Bring another page to the front."""
        self.page.context.new_page().bring_to_front()

    def bring_back(self) -> None:
        """Bring the app's page to the front again."""
        self.page.bring_to_front()

    def freeze(self) -> None:
        """Stop the page's timers and its sound, as a browser does with a page out of sight."""
        self._cdp.send("Page.setWebLifecycleState", {"state": "frozen"})

    def thaw(self) -> None:
        """Let them go on."""
        self._cdp.send("Page.setWebLifecycleState", {"state": "active"})

    def kill(self) -> None:
        """End the browser at once, with nothing put away."""
        if self.process is None:
            return
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        self.process = None


def _address(port_file: Path) -> str:
    until = time.monotonic() + START_SECONDS
    while time.monotonic() < until:
        if port_file.exists() and "\n" in (port := port_file.read_text(encoding="utf-8")):
            return f"http://127.0.0.1:{port.splitlines()[0]}"
        time.sleep(0.025)
    raise AssertionError(f"the browser told no port within {START_SECONDS} s")

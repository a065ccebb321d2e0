"""Finds the Chromium that the browser tests drive, or installs one where that is a single plain step."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

from environment import SetupError, ensure_it_runs, install_debian_packages, may_install_debian_packages

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
ASK_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as engine:
    print(engine.chromium.executable_path)
"""


def find(python: Path) -> Path:
    """Return the browser's path: CHROMIUM_PATH, then PATH, then Playwright's own, then (root on Debian) a fresh install.

    Raises:
        SetupError: there is none and none can be installed here, CHROMIUM_PATH names no file, or Playwright
            itself does not start.
    """
    ensure_it_runs([str(python), "-m", "playwright", "--version"])
    found = _named() or _on_path() or _playwrights_own(python)
    if found is None and may_install_debian_packages():
        install_debian_packages("chromium")
        found = _on_path()
    if found is None:
        raise SetupError(
            "No Chromium found: install Chromium or Chrome so that it is on PATH, or set CHROMIUM_PATH to one, "
            f"or let Playwright fetch its own with '{python} -m playwright install chromium'."
        )
    return found


def _named() -> Path | None:
    named = os.environ.get("CHROMIUM_PATH")
    if not named:
        return None
    if not Path(named).is_file():
        raise SetupError(f"CHROMIUM_PATH is {named}, and there is no such file: set it to a Chromium, or unset it.")
    return Path(named)


def _on_path() -> Path | None:
    return next((Path(found) for name in NAMES if (found := shutil.which(name))), None)


def _playwrights_own(python: Path) -> Path | None:
    command = [str(python), "-c", ASK_PLAYWRIGHT]
    answer = subprocess.run(command, check=False, capture_output=True, text=True, timeout=60)
    path = Path(answer.stdout.strip() or "/nowhere")
    return path if answer.returncode == 0 and path.is_file() else None

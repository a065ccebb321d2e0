"""Draws every screen of the demo, phone and desk, as pictures to be looked at, and lays them all on one sheet.

    .venv/bin/python -m e2e.every_screen FOLDER                     every screen, light, on a phone of 390x844 and a desk of 1440
    .venv/bin/python -m e2e.every_screen FOLDER --size 360x640 --scheme dark --text 2 --only session

It serves the demo's practice from a database of its own.
"""

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from e2e.camera import Camera
from e2e.conftest import ARGS, chromium_path
from e2e.contact_sheet import demo
from e2e.desk_walk import desk_screens
from e2e.past_screens import finishing, intake, past, returning
from e2e.phone import Phone
from e2e.phone_walk import phone_screens
from e2e.server import Server
from e2e.sizes import larger_text, phone_options
from webapp.records.database import open_records, write

FIRST_EVENING = datetime.now(UTC).replace(hour=18, minute=0) - timedelta(days=2)
SHEET = """body { display: flex; flex-wrap: wrap; align-items: flex-start; gap: 16px; background: #777; margin: 16px }
figure { margin: 0; font: 14px sans-serif; max-height: 900px; overflow: hidden } img { zoom: 0.34; display: block }"""


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


def main(words: list[str]) -> int:
    """Draw what is asked for."""
    wanted = _arguments(words)
    wanted.folder.mkdir(parents=True, exist_ok=True)
    width, height = map(int, wanted.size.split("x"))
    camera = Camera(wanted.folder, wanted.only)
    with sync_playwright() as engine, served(wanted.language) as (server, token):
        browser = engine.chromium.launch(executable_path=chromium_path(), args=list(ARGS))
        for part in filter(lambda each: wanted.part in ("", each), PARTS):
            PARTS[part](browser, server, token, camera, wanted, (width, height))
        lay_out(browser, wanted.folder)
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
    browser: Browser, server: Server, token: str, camera: Camera, wanted: argparse.Namespace, size: tuple
) -> None:
    options = {**phone_options(*size), **_colours_of(wanted), "device_scale_factor": 1}
    options["locale"] = _browser_of(wanted)
    phone = Phone.switched_on(browser.new_context(**options, base_url=server.origin), FIRST_EVENING, wanted.language)
    if wanted.text != 1:
        larger_text(phone.page, wanted.text)
    phone_screens(phone, token, camera)


def _browser_of(wanted: argparse.Namespace) -> str:
    return "en-GB" if wanted.language == "en" else wanted.language


def _colours_of(wanted: argparse.Namespace) -> dict[str, str]:
    return {"color_scheme": wanted.scheme, "forced_colors": "active" if wanted.forced else "none"}


def _desk(
    browser: Browser, server: Server, _token: str, camera: Camera, wanted: argparse.Namespace, _size: tuple
) -> None:
    viewport = {"width": wanted.desk, "height": 900}
    page = browser.new_context(
        viewport=viewport, base_url=server.origin, locale=_browser_of(wanted), **_colours_of(wanted)
    ).new_page()
    if wanted.text != 1:
        larger_text(page, wanted.text)
    desk_screens(page, camera)


PARTS: dict[str, Callable] = {
    "phone": _phone,
    "past": past,
    "finishing": finishing,
    "returning": returning,
    "intake": intake,
    "desk": _desk,
}


def _arguments(words: list[str]) -> argparse.Namespace:
    reader = argparse.ArgumentParser(prog="python -m e2e.every_screen", description="Draws every screen of the demo.")
    reader.add_argument("folder", type=Path, help="where the pictures go")
    reader.add_argument("--size", default="390x844", help="the phone's width and height")
    reader.add_argument("--desk", type=int, default=1440, help="the desk's width")
    reader.add_argument("--language", default="en", help="the tag of the language, such as es or en-XA")
    reader.add_argument("--scheme", default="light", choices=("light", "dark"))
    reader.add_argument("--forced", action="store_true", help="with colours that the reader has forced")
    reader.add_argument("--text", type=float, default=1, help="how many times larger the words are")
    reader.add_argument("--part", default="", choices=("", *PARTS))
    reader.add_argument("--only", default="", help="a pattern of the names of the pictures")
    return reader.parse_args(words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

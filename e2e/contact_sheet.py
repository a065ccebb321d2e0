"""Draws every movement in three phases, with the right hand and with the left, on one sheet, and two pages of the demo's phone.

What is lifted is in the right hand; the left shows the same with no weight.

To be run after a picture changed:

    .venv/bin/python -m e2e.contact_sheet        writes demo/pictures/{movements,day,session}.png

It serves the demo's practice from a database of its own, and asks the app's own modules for the drawings.
"""

import json
import os
import subprocess
import sys
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from e2e.arriving import answer_questions
from e2e.conftest import ARGS, chromium_path
from e2e.few_colours import with_few_colours
from e2e.phone import Phone
from e2e.ready_server import ROOT
from e2e.server import Server
from e2e.sizes import phone_options
from e2e.sources import modules
from webapp.library.shelf import the_shelf
from webapp.words import words_for

PICTURES, ASSETS = ROOT / "demo/pictures", ROOT / "pwa_assets/pictures"
SHOWN_BY_THE_MANIFEST = ("day", "session")
LARGEST_BYTES = 120_000
PHONE = (390, 844)
SECONDS_TO_A_SET = 172
FIRST_EVENING = datetime.now(UTC).replace(hour=18, minute=0) - timedelta(days=2)
# The app's own modules draw; this only lays the drawings out. Columns: three phases of the right arm, three of the left.
DRAW = """async (names) => {
  const { createWristDrawing, drawnFor, drawnMovements, turnedAt } = halfturnModules;
  const moments = (way) => way === 'stretch'
    ? [0, 0.5, 1].map((part) => ({ phase: part ? 'hold' : 'ready', fraction: part, phaseMs: 40000, stepMs: part * 40000,
        stepFraction: part, secondsLeft: 40 - part * 40 }))
    : [['up', 0], ['up', 0.5], ['down', 0]].map(([phase, fraction]) => ({ phase, fraction, phaseMs: 2000, stepMs: 0,
        stepFraction: 0, secondsLeft: 1 }));
  const sheet = document.createElement('div');
  sheet.id = 'sheet';
  for (const movement of drawnMovements()) {
    const drawn = drawnFor(movement);
    const name = sheet.appendChild(document.createElement('h2'));
    name.textContent = names[movement] ?? movement;
    for (const arm of ['right', 'left']) for (const moment of moments(drawn.way)) {
      const drawing = createWristDrawing(document);
      drawing.show({ drawn, arm, weighted: arm === 'right' && drawn.way === 'lift', range: 1 });
      drawing.turn(turnedAt(drawn, { range: 1 }, moment));
      sheet.append(drawing.element);
    }
  }
  document.body.replaceChildren(sheet);
  const style = new CSSStyleSheet();
  style.replaceSync(`
    #sheet { display: grid; grid-template-columns: 8rem repeat(6, 7.5rem); gap: .25rem .5rem; padding: .75rem; inline-size: max-content; }
    #sheet h2 { font: 700 .9375rem/1.2 var(--type); align-self: center; margin: 0; }
    #sheet svg { block-size: 7rem; inline-size: 7.5rem; --nib: 4px; }
    #sheet [data-way=stretch] { --nib: 6.5px; }
    #sheet svg:nth-of-type(6n + 4) { border-inline-start: 1px solid var(--shade); }`);
  document.adoptedStyleSheets = [style];
}"""


def draw_all(browser: Browser, server: Server, token: str) -> dict[str, bytes]:
    """Draw the sheet, the day page and a set of the session; PNG bytes by name."""
    options = {**phone_options(*PHONE), "device_scale_factor": 1}
    phone = Phone.switched_on(browser.new_context(**options, base_url=server.origin), FIRST_EVENING)
    phone.join_by_link(token)
    answer_questions(phone)
    phone.do_session({"left": 1})
    phone.sleep_until_morning()
    phone.report_morning({"left": 1})
    phone.open()
    phone.day.note_read.tap()
    expect(phone.day.note).to_be_hidden()
    drawn = {"day": phone.page.screenshot()}
    phone.begin_session()
    phone.play(SECONDS_TO_A_SET)
    drawn["session"] = phone.page.screenshot()
    page = browser.new_page(viewport={"width": 1000, "height": 900}, color_scheme="light")
    page.add_init_script(modules())
    page.goto(f"{server.origin}/app/en/")
    drawn["movements"] = contact_sheet(page)
    return {name: with_few_colours(page, png) for name, png in drawn.items()}


def contact_sheet(page: Page) -> bytes:
    """Draw every movement on a page of the app; PNG bytes."""
    words = words_for()
    page.evaluate(DRAW, {id_: words.say(movement.name) for id_, movement in the_shelf().movements.items()})
    return page.locator("#sheet").screenshot()


def demo(server: Server) -> str:
    """Fill the database with the demo's practice; give the token of its newcomer's link."""
    environ = {**os.environ, "HALFTURN_DB": str(server.db_path), "HALFTURN_ORIGIN": server.origin}
    command = [sys.executable, ROOT / "demo/practice.py"]
    filled = subprocess.run(command, check=True, env=environ, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    token: str = json.loads(filled.stdout)["token"]
    return token


def main() -> int:
    """Write the pictures; 1 where one is too large to be kept."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as engine:
        server = Server(Path(folder))
        token = demo(server)
        server.start()
        try:
            browser = engine.chromium.launch(executable_path=chromium_path(), args=list(ARGS))
            drawn = draw_all(browser, server, token)
            browser.close()
        finally:
            server.kill()
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, png in drawn.items():
        (PICTURES / f"{name}.png").write_bytes(png)
        if name in SHOWN_BY_THE_MANIFEST:
            (ASSETS / f"{name}.png").write_bytes(png)
        sys.stdout.write(f"demo/pictures/{name}.png {len(png)} bytes\n")
    return int(any(len(png) > LARGEST_BYTES for png in drawn.values()))


if __name__ == "__main__":
    sys.exit(main())

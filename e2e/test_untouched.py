"""One tap starts a session, and nobody touches the phone again until its end; and picture, tone and words agree all the way."""

import re
from datetime import timedelta
from itertools import pairwise

import pytest
from playwright.sync_api import expect

from e2e.phone import RUN, STORE
from e2e.screens import AfterScreen, SessionScreen
from tests.cast import BELL_FOUNDER

TONE_NEAR_MS = 60
EDGE_MS = 60
LOOK_MS = 700
COUNT_TOUCHES = """() => {
  window.touches = { pointerdown: 0, touchstart: 0, click: 0, keydown: 0 };
  for (const kind of Object.keys(touches))
    addEventListener(kind, (event) => { touches[kind] += event.isTrusted; }, { capture: true });
}"""
ONE_TAP = {"pointerdown": 1, "touchstart": 1, "click": 1, "keydown": 0}
# A step is shown once it is kept: what was written before this reading is on the screen after it.
LOOK = """async () => {
  await new Promise((done) => {
    indexedDB.open(window.halfturnName).onsuccess = ({ target: { result: db } }) => {
      const reading = db.transaction('run').objectStore('run').get('run');
      reading.onsuccess = () => { db.close(); const { port1, port2 } = new MessageChannel(); port1.onmessage = done; port2.postMessage(0); };
    };
  });
  const slot = (name) => document.querySelector(`.session [data-slot="${name}"]`)?.textContent ?? '';
  const line = (name) => document.querySelector(`.session .wrist-${name}`);
  const length = (path) => (path?.getAttribute('d') ? path.getTotalLength() : 0);
  return {
    now: Date.now(), audio: window.soundsOfThisPage.at(-1)?.currentTime ?? 0,
    name: slot('name'), numeral: slot('numeral'), phase: slot('phase'), cue: slot('cue'),
    mark: line('mark')?.getAttribute('d') ?? '', day: length(line('day')),
    hand: [...document.querySelectorAll('.session .wrist g g path')].map((path) => path.getAttribute('d')).join(''),
  };
}"""
SHEET = f"""{STORE}
  window.halfturnName = (await indexedDB.databases())[0].name;
  const {{ plan: {{ steps }}, activeMs, wallAt }} = await store.loadRun();
  return {{ steps, began: wallAt - activeMs, movements: (await store.bundle()).movements }};
}}"""


@pytest.fixture
def phone(one_phone, practice):
    one_phone.join_by_link(practice.enrol(BELL_FOUNDER).token)
    return one_phone


def test_one_tap_on_the_day_page_plays_a_whole_session(phone):
    phone.check_sound()
    phone.page.evaluate(COUNT_TOUCHES)
    phone.day.start.tap()
    expect(SessionScreen(phone.page).running).to_be_visible()
    phone.play_to_the_end()
    expect(AfterScreen(phone.page).title).to_be_visible()
    assert phone.page.evaluate("touches") == ONE_TAP
    over = phone.page.evaluate(RUN)
    work = [place for place, step in enumerate(over["plan"]["steps"]) if step["kind"] in {"warm_up", "reps", "hold"}]
    assert over["ended"] == "completed"
    assert over["begun"] == over["done"] == work
    assert over["gaps"] == []


def due(steps, ms):
    """What the sheet asks at a place: index of the step, "up", "down" or its kind, milliseconds to the nearest change."""
    start = 0
    for index, step in enumerate(steps):
        length = step["seconds"] * 1000
        if ms < start + length or index == len(steps) - 1:
            break
        start += length
    into = ms - start
    if not step["reps"]:
        return index, step["kind"], min(into % 1000, 1000 - into % 1000)
    each = length / step["reps"]
    turn = each * step["up"] / (step["up"] + step["down"])
    here = into % each
    return index, "up" if here < turn else "down", min(here, abs(here - turn), each - here)


def height(mark):
    """How far down the page the moving dot stands."""
    return float(re.match(r"M(\S+) (\S+?)a", mark)[2])


@pytest.fixture
def watched(phone):
    """The whole session looked at twice a second: (looks, sheet, tones as (place in ms, hertz))."""
    phone.begin_session()
    phone.context.clock.pause_at(phone.now + timedelta(seconds=1))
    sheet, looks = phone.page.evaluate(SHEET), []
    whole = sum(step["seconds"] for step in sheet["steps"])
    for _ in range(int((whole - 2) * 1000 / LOOK_MS)):
        phone.context.clock.fast_forward(LOOK_MS)
        looks.append(phone.page.evaluate(LOOK))
    last = looks[-1]
    tones = phone.page.evaluate("tonesOfThisPage")
    placed = [(last["now"] - sheet["began"] + (tone["at"] - last["audio"]) * 1000, tone["hertz"]) for tone in tones]
    for look in looks:
        place, asked, margin = due(sheet["steps"], look["now"] - sheet["began"])
        look.update(step=sheet["steps"][place], place=place, asked=asked, margin=margin)
    return [look for look in looks if look["margin"] > EDGE_MS], sheet, placed


def test_picture_tone_and_words_agree_at_every_cue(watched):
    looks, sheet, tones = watched
    assert len(looks) > 300
    _words_agree(looks, sheet)
    _picture_agrees(looks)
    _tones_agree(sheet, tones)


def _words_agree(looks, sheet):
    for look in looks:
        step, cues = look["step"], sheet["movements"].get(look["step"]["movement"] or "", {}).get("cues", {})
        assert look["name"] == step["name"]
        if look["asked"] in {"up", "down"}:
            assert look["phase"] == cues[look["asked"]], look
        else:
            assert look["numeral"].isdecimal()
    for place, step in enumerate(sheet["steps"][:-1]):
        # Now and then the line says that ten seconds are left, or counts; it says the step's own words first.
        assert {look["cue"] for look in looks if look["place"] == place} & {step["cue"], step["hint"]}, step["name"]


def _picture_agrees(looks):
    turns = {"up": 0, "down": 0, "hold": 0}
    for before, look in pairwise(looks):
        asked, movement = look["asked"], look["step"]["movement"]
        is_same_rep = before["numeral"] == look["numeral"] or asked == "hold"
        if (before["place"], before["asked"]) != (look["place"], asked) or not is_same_rep:
            continue
        if look["step"]["kind"] == "reps" and asked in {"up", "down"}:
            rises = height(look["mark"]) < height(before["mark"])
            assert rises == (asked == "up"), (movement, look)
            turns[asked] += 1
        elif look["step"]["kind"] == "warm_up":
            assert look["hand"] != before["hand"], movement
        elif asked == "hold":
            assert look["day"] > before["day"], movement
            turns["hold"] += 1
    assert min(turns.values()) > 10


def _tones_agree(sheet, tones):
    start = 0.0
    for step in sheet["steps"]:
        length = step["seconds"] * 1000
        if step["reps"]:
            each = length / step["reps"]
            turn = each * step["up"] / (step["up"] + step["down"])
            for rep in range(1, step["reps"]):
                up, down = _tone_at(tones, start + rep * each), _tone_at(tones, start + rep * each + turn)
                assert max(up) > max(down), (step["name"], rep)
        elif length and start:
            assert _tone_at(tones, start), step["name"]
        start += length


def _tone_at(tones, ms):
    """The pitches that begin at a place of the sheet; there must be some."""
    found = [hertz for at, hertz in tones if abs(at - ms) < TONE_NEAR_MS]
    assert found, f"no tone at {ms} ms"
    return found

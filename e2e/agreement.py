"""Reads picture, tone and words of a session at the same moments, and holds each to the cue sheet and to one another."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from e2e.phone import Phone
from e2e.phone_reading import SETTLED, STORE

TONE_NEAR_MS = 60
EDGE_MS = 60
LOOK_MS = 700
LONG_SECONDS = 20
LOOK = """async () => {
  await (SETTLED)();
  const slot = (name) => document.querySelector(`.session [data-slot="${name}"]`)?.textContent ?? '';
  const line = (name) => document.querySelector(`.session .wrist-${name}`);
  const moved = (shape) => `${shape.getAttribute('transform')} ${shape.getAttribute('d')}`;
  const spoken = (window.saidByThisPage ?? []).splice(0).filter(({ volume }) => volume > 0);
  return {
    now: Date.now(), audio: window.soundsOfThisPage.at(-1)?.currentTime ?? 0, spoken: spoken.map(({ text }) => text),
    name: slot('name'), numeral: slot('numeral'), of: slot('of'), phase: slot('phase'), cue: slot('cue'),
    first: document.querySelector('.session [data-note=first]')?.hidden ? '' : slot('first'),
    mark: line('mark')?.getAttribute('transform') ?? '', gone: line('gone')?.getBBox().width ?? 0,
    hand: [...document.querySelectorAll('.session .wrist g g *')].map(moved).join(''),
  };
}""".replace("SETTLED", SETTLED)
SHEET = f"""{STORE}
  window.saidByThisPage?.splice(0);
  const {{ plan: {{ steps }}, activeMs, wallAt }} = await store.loadRun();
  return {{ steps, began: wallAt - activeMs, movements: (await store.bundle()).movements }};
}}"""
# What each kind of tone is made of: [hertz, seconds after its beginning] a note, as the app hands it to the hardware.
NOTES = """async (kinds) => {
  const { playNotes } = halfturnModules;
  const [own, context] = [window.tonesOfThisPage.length, window.soundsOfThisPage.at(-1)];
  const notesOf = (kind) => {
    playNotes(context, context.destination, kind, 0);
    return window.tonesOfThisPage.splice(own).map(({ hertz, at }) => [hertz, at]);
  };
  return Object.fromEntries(kinds.map((kind) => [kind, notesOf(kind)]));
}"""
KINDS = ["step", "up", "down", "half", "tick", "arm", "end"]


@dataclass
class Reading:
    """A stretch of a session: what was seen and said twice a second, the sheet, the notes as (place in ms, hertz).

    `looks` leaves out those so near to a change that either side of it would be right; `every` has them too.
    """

    every: list[dict]
    sheet: dict
    tones: list[tuple[float, float]]
    notes: dict[str, list[tuple[float, float]]]

    @property
    def looks(self) -> list[dict]:
        """The looks at which it is sure what is asked."""
        return [look for look in self.every if look["margin"] > EDGE_MS]

    @property
    def whole_steps(self) -> list[tuple[int, float, dict]]:
        """Place, start in ms and step of each that began and ended while it was looked at."""
        begins, ends = (self.every[at]["now"] - self.sheet["began"] for at in (0, -1))
        starts, found = 0.0, []
        for number, step in enumerate(self.sheet["steps"]):
            length = step["seconds"] * 1000
            if length and begins <= starts and starts + length <= ends:
                found.append((number, starts, step))
            starts += length
        return found


def read(phone: Phone, seconds: float | None = None) -> Reading:
    """Look at the session that runs for so long, or to just before its end; its clock stands still from then on."""
    phone.stand_still()
    sheet, looks = phone.page.evaluate(SHEET), []
    for _ in range(int((seconds or sum(step["seconds"] for step in sheet["steps"]) - 2) * 1000 / LOOK_MS)):
        phone.context.clock.fast_forward(LOOK_MS)
        looks.append(phone.page.evaluate(LOOK))
    last = looks[-1]
    tones = phone.page.evaluate("heardOnThisPage()")
    placed = [(last["now"] - sheet["began"] + (tone["at"] - last["audio"]) * 1000, tone["hertz"]) for tone in tones]
    for look in looks:
        number, direction, rep, margin = due(sheet["steps"], look["now"] - sheet["began"])
        left = sum(step["seconds"] for step in sheet["steps"][: number + 1]) - (look["now"] - sheet["began"]) / 1000
        look.update(step=sheet["steps"][number], place=number, asked=direction, rep=rep, margin=margin, left=ceil(left))
    return Reading(looks, sheet, placed, phone.page.evaluate(NOTES, KINDS))


def due(steps: list[dict], ms: float) -> tuple[int, str, int, float]:
    """What the sheet asks at a place: index of the step, "up", "down" or its kind, the rep, ms to the nearest change."""
    start = 0.0
    for index, step in enumerate(steps):
        length = step["seconds"] * 1000
        if ms < start + length or index == len(steps) - 1:
            break
        start += length
    into = ms - start
    if not step["reps"]:
        return index, step["kind"], 0, min(into % 1000, 1000 - into % 1000)
    each = length / step["reps"]
    turn = each * step["up"] / (step["up"] + step["down"])
    here = into % each
    return index, "up" if here < turn else "down", int(into // each) + 1, min(here, abs(here - turn), each - here)


def assert_words_agree(reading: Reading) -> None:
    """What is read beside the picture is what the sheet asks: name, count or seconds left, way, and the step's own words."""
    for look in reading.looks:
        step = look["step"]
        cues = reading.sheet["movements"].get(step["movement"] or "", {}).get("cues", {})
        assert look["name"] == step["name"]
        if look["asked"] in {"up", "down"}:
            assert look["phase"] == cues[look["asked"]], look
            assert (look["numeral"], look["of"]) == (str(look["rep"]), f"of {step['reps']}"), look
        else:
            assert look["numeral"] == str(look["left"]), look
    for number, _, step in reading.whole_steps:
        # Now and then the line says that ten seconds are left, or counts; it says the step's own words first.
        seen = {look["cue"] for look in reading.looks if look["place"] == number}
        assert seen & {step["cue"], step["hint"]}, step["name"]


def assert_picture_agrees(reading: Reading, least: int) -> None:
    """The hand goes the way that is asked; each of up, down and hold was seen to move at least so often."""
    turns = {"up": 0, "down": 0, "hold": 0}
    for before, look in pairwise(reading.looks):
        direction, movement = look["asked"], look["step"]["movement"]
        is_same_rep = before["numeral"] == look["numeral"] or direction == "hold"
        if (before["place"], before["asked"]) != (look["place"], direction) or not is_same_rep:
            continue
        if look["step"]["kind"] == "reps" and direction in {"up", "down"}:
            rises = _angle(look["mark"]) > _angle(before["mark"])
            assert rises == (direction == "up"), (movement, look)
            turns[direction] += 1
        elif look["step"]["kind"] == "warm_up":
            assert look["hand"] != before["hand"], movement
        elif direction == "hold":
            assert look["gone"] > before["gone"], movement
            turns["hold"] += 1
    direction = {look["asked"] for look in reading.looks}
    assert all(often > least for way, often in turns.items() if way in direction), turns


def assert_tones_agree(reading: Reading) -> None:
    """Each step sounds the tones that are due in it, each of its own kind at its own time, and no other."""
    for number, start, step in reading.whole_steps:
        length, cues = step["seconds"] * 1000, tones_due(step, is_first=number == 0)
        for at, kind in cues:
            for hertz, after in reading.notes[kind]:
                found = [pitch for ms, pitch in reading.tones if abs(ms - start - at - after * 1000) < TONE_NEAR_MS]
                assert found == [hertz], (step["name"], kind, at, found)
        within = [ms for ms, _ in reading.tones if -EDGE_MS < ms - start < length - EDGE_MS]
        assert len(within) == sum(len(reading.notes[kind]) for _, kind in cues), (step["name"], within)


def tones_due(step: dict, *, is_first: bool) -> list[tuple[float, str]]:
    """What a step sounds, as (ms from its start, kind): its opening, each turn of a rep, its half, its last seconds."""
    length = step["seconds"] * 1000
    opening = [] if is_first else [(0.0, "arm" if step["kind"] == "change_arm" else "step")]
    if not step["reps"]:
        halves = [(length / 2, "half")] if step["seconds"] > LONG_SECONDS else []
        return opening + halves + [(length - left * 1000, "tick") for left in (3, 2, 1) if left < step["seconds"]]
    each = length / step["reps"]
    turn = each * step["up"] / (step["up"] + step["down"])
    turns = [(rep * each + after, kind) for rep in range(step["reps"]) for after, kind in ((0, "up"), (turn, "down"))]
    return opening + turns[1:]


def assert_voice_agrees(reading: Reading) -> None:
    """All that was spoken stood on the screen at that moment, and every step was spoken when it came."""
    for look in reading.every:
        assert set(look["spoken"]) <= {look["cue"], look["numeral"], look["first"]}, look
    for number, start, step in reading.whole_steps:
        first = next(look for look in reading.every if look["now"] - reading.sheet["began"] >= start)
        second = reading.every[reading.every.index(first) + 1]
        assert step["cue"] in first["spoken"] + second["spoken"], (number, step["name"])


def _angle(mark: str) -> float:
    """How far up the arrow on the rim stands, in degrees."""
    found = re.fullmatch(r"rotate\((\S+)\)", mark)
    assert found, mark
    return -float(found[1])

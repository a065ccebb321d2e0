"""How late tones and changes on the screen were in a session that was listened in on. Pure: figures in, figures out.

All times in milliseconds unless a name says seconds; the page's forward clock is the session's own.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from statistics import median
from typing import Any, NamedTuple

NEAREST_SECONDS = 0.1
"""A tone that is heard belongs to one that was laid out within this time of it."""
ROUNDING = 5.0
"""The clock on the wall, from which the start is worked out, tells whole milliseconds."""
MOVED = 1.0
"""Tones of one layout whose places on the audio clock differ by more than this were laid out by different origins."""
TOLD_WINDOW = 8
MISSED = 900.0
"""A change later than this was not shown at all: the next one had come by then."""

Steps = Sequence[Mapping[str, Any]]
Heard = Mapping[str, Sequence[Any]]


class Tone(NamedTuple):
    """One cue as it was heard: due at this place of the sheet, its onset on the audio clock, the layout it was of."""

    due: float
    onset_seconds: float
    planned_seconds: float
    layout: int


def spread(values: Sequence[float]) -> dict[str, float | int]:
    """Give count, middle, 95th of a hundred and the most, in ms; nought everywhere for none."""
    told = sorted(values) or [0.0]
    ranks = {"p50": 0.5, "p95": 0.95, "max": 1.0}
    at = {name: round(told[ceil(share * len(told)) - 1], 2) for name, share in ranks.items()}
    return {"count": len(values), **at}


def due_changes(steps: Steps) -> Iterator[float]:
    """Yield when the screen must change: at each step, each turn of a rep, each second of a count."""
    start = 0.0
    for step in steps:
        length = step["seconds"] * 1000
        yield from (start + at for at in (_turns(step, length) if step["reps"] else _counts(length)))
        start += length


def _turns(step: Mapping[str, Any], length: float) -> Iterator[float]:
    each = length / step["reps"]
    up = each * step["up"] / (step["up"] + step["down"])
    for rep in range(step["reps"]):
        yield from (rep * each, rep * each + up)


def _counts(length: float) -> Iterator[float]:
    whole = int(length // 1000)
    if length % 1000:
        yield 0.0
    yield from (length - left * 1000 for left in range(whole, 0, -1))


def began_at(heard: Heard) -> float:
    """Give the instant of the forward clock at which the sheet's first millisecond was due."""
    apart = median(each["wallLessMono"] for each in heard["clocks"])
    return float(median(each["wallAt"] - each["activeMs"] - apart for each in heard["saved"] if each["activeMs"]))


def screen_lateness(heard: Heard, steps: Steps, until: float) -> list[float]:
    """Give for each change that was due how much later it was painted; the first step is on the screen before the press."""
    began = began_at(heard)
    shown = [each for each in heard["shown"] if each["paintedAt"]]
    written = [each["writtenAt"] - began for each in shown]
    late = []
    for due in due_changes(steps):
        place = bisect_left(written, due - ROUNDING)
        if 0 < due < until and place < len(shown):
            late.append(shown[place]["paintedAt"] - began - due)
    return late


def tones_of(heard: Heard, cue_ms: Sequence[float]) -> list[Tone]:
    """Match each cue that was heard with the tone that was laid out for it."""
    began, told = began_at(heard), []
    clocks, onsets = heard["clocks"], sorted(heard["onsets"])
    for due in cue_ms:
        asked = _audio_at(clocks, began + due)
        onset = _nearest(onsets, asked)
        planned = [each for each in heard["planned"] if abs(each["at"] - onset) < NEAREST_SECONDS]
        if abs(onset - asked) < NEAREST_SECONDS and planned:
            _, layout, at = min((abs(each["at"] - onset), -each["layout"], each["at"]) for each in planned)
            told.append(Tone(due, onset, at, -layout))
    return told


def sheet_errors(tones: Sequence[Tone]) -> list[float]:
    """Give for each tone how far it began from its place on the sheet, on the audio clock, within its layout."""
    origins: dict[int, list[float]] = {}
    for tone in tones:
        origins.setdefault(tone.layout, []).append(tone.planned_seconds * 1000 - tone.due)
    middle = {layout: median(found) for layout, found in origins.items()}
    return [abs(tone.onset_seconds * 1000 - tone.due - middle[tone.layout]) for tone in tones]


def moved_origins(tones: Sequence[Tone]) -> list[float]:
    """Give by how much the tones of one layout were moved on the audio clock, each time they were, to follow the session's."""
    origins = [(tone.layout, tone.planned_seconds * 1000 - tone.due) for tone in tones]
    steps = [after[1] - before[1] for before, after in pairwise(origins) if before[0] == after[0]]
    return [round(step, 1) for step in steps if abs(step) > MOVED]


def clocks_apart(heard: Heard) -> float:
    """Give how far the audio clock came away from the session's own or back, most less least, in ms, as its hardware told it.

    Each word of the hardware may be some milliseconds off on a busy machine, so that windows of two seconds are taken by
    their middle.
    """
    apart = [each["audio"] * 1000 - each["mono"] for each in heard["clocks"]]
    middles = [median(apart[at : at + TOLD_WINDOW]) for at in range(TOLD_WINDOW, len(apart) - TOLD_WINDOW, TOLD_WINDOW)]
    return round(max(middles) - min(middles), 2) if middles else 0.0


def clock_lateness(heard: Heard, tones: Sequence[Tone]) -> list[float]:
    """Give for each tone how much later it was heard than the session's own clock asked for."""
    began = began_at(heard)
    return [_mono_at(heard["clocks"], tone.onset_seconds) - began - tone.due for tone in tones]


def drift(late: Sequence[float]) -> float:
    """Give how much later the last fifth was than the first, by the middle of each."""
    fifth = max(1, len(late) // 5)
    return round(median(late[-fifth:]) - median(late[:fifth]), 2) if late else 0.0


def shown_before_kept(heard: Heard) -> int:
    """Count the steps that were on the screen before they were in the phone's storage."""
    kept: dict[int, float] = {}
    for each in heard["saved"]:
        if each["keptAt"]:
            kept[each["step"]] = min(kept.get(each["step"], each["keptAt"]), each["keptAt"])
    names = [each["text"].split("|")[0] for each in heard["shown"]]
    firsts = [each for name, before, each in zip(names, ["", *names], heard["shown"], strict=False) if name != before]
    began = sorted(kept.values())
    return sum(1 for first, at in zip(firsts[1:], began[1:], strict=False) if first["writtenAt"] < at - ROUNDING)


def _nearest(values: Sequence[float], to: float) -> float:
    place = bisect_left(values, to)
    return min(values[max(0, place - 1) : place + 1], key=lambda value: abs(value - to), default=float("inf"))


def _audio_at(clocks: Sequence[Mapping[str, float]], mono: float) -> float:
    near = min(clocks, key=lambda each: abs(each["mono"] - mono))
    return near["audio"] + (mono - near["mono"]) / 1000


def _mono_at(clocks: Sequence[Mapping[str, float]], audio: float) -> float:
    near = min(clocks, key=lambda each: abs(each["audio"] - audio))
    return near["mono"] + (audio - near["audio"]) * 1000

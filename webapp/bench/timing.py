"""How late tones and screen changes were in a recorded session. Pure arithmetic.

All times are in milliseconds unless a name says seconds. The session runs on the page's forward clock.
"""

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import ceil
from statistics import median
from typing import Any, NamedTuple

NEAREST_SECONDS = 0.1
"""An onset belongs to a scheduled tone if it lies within this time of it."""
ROUNDING = 5.0
"""Tolerance for rounding: the start is computed from the wall clock, which has whole milliseconds."""
MOVED = 1.0
"""Where the origins of two tones of one layout differ by more than this, the tones were moved on the audio clock."""
TOLD_WINDOW = 8
MISSED = 900.0
"""A change that is later than this was never shown, because the next change had replaced it."""

Steps = Sequence[Mapping[str, Any]]
Heard = Mapping[str, Sequence[Any]]


class Tone(NamedTuple):
    """One cue as it was heard: its due time on the sheet, its onset and planned time on the audio clock, its layout."""

    due: float
    onset_seconds: float
    planned_seconds: float
    layout: int


def spread(values: Sequence[float]) -> dict[str, float | int]:
    """Return the count, the median, the 95th percentile and the maximum, in ms; all 0 for no values."""
    in_order = sorted(values) or [0.0]
    ranks = {"p50": 0.5, "p95": 0.95, "max": 1.0}
    at = {name: round(in_order[ceil(share * len(in_order)) - 1], 2) for name, share in ranks.items()}
    return {"count": len(values), **at}


def due_changes(steps: Steps) -> Iterator[float]:
    """Yield the times at which the screen must change: each step, each turn of a rep, each second of a count."""
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
    """Return the time on the forward clock at which the sheet began."""
    apart = median(each["wallLessMono"] for each in heard["clocks"])
    return float(median(each["wallAt"] - each["activeMs"] - apart for each in heard["saved"] if each["activeMs"]))


def screen_lateness(heard: Heard, steps: Steps, until: float) -> list[float]:
    """Return for each due change how much later it was painted.

    The change at 0 is left out, because the first step is on the screen before the client presses start.
    """
    began = began_at(heard)
    shown = [each for each in heard["shown"] if each["paintedAt"]]
    written = [each["writtenAt"] - began for each in shown]
    late = []
    for due in due_changes(steps):
        index = bisect_left(written, due - ROUNDING)
        if 0 < due < until and index < len(shown):
            late.append(shown[index]["paintedAt"] - began - due)
    return late


def tones_of(heard: Heard, cue_ms: Sequence[float]) -> list[Tone]:
    """Return the cues that were heard, each matched with its onset and its scheduled tone."""
    began, tones = began_at(heard), []
    clocks, onsets = heard["clocks"], sorted(heard["onsets"])
    for due in cue_ms:
        expected = _audio_at(clocks, began + due)
        onset = _nearest(onsets, expected)
        planned = [each for each in heard["planned"] if abs(each["at"] - onset) < NEAREST_SECONDS]
        if abs(onset - expected) < NEAREST_SECONDS and planned:
            _, layout, at = min((abs(each["at"] - onset), -each["layout"], each["at"]) for each in planned)
            tones.append(Tone(due, onset, at, -layout))
    return tones


def sheet_errors(tones: Sequence[Tone]) -> list[float]:
    """Return for each tone the distance of its onset from its due time, on the audio clock, within its layout."""
    origins: dict[int, list[float]] = {}
    for tone in tones:
        origins.setdefault(tone.layout, []).append(tone.planned_seconds * 1000 - tone.due)
    middle = {layout: median(found) for layout, found in origins.items()}
    return [abs(tone.onset_seconds * 1000 - tone.due - middle[tone.layout]) for tone in tones]


def moved_origins(tones: Sequence[Tone]) -> list[float]:
    """Return each shift by which tones of one layout were moved on the audio clock to follow the session's clock."""
    origins = [(tone.layout, tone.planned_seconds * 1000 - tone.due) for tone in tones]
    steps = [after[1] - before[1] for before, after in pairwise(origins) if before[0] == after[0]]
    return [round(step, 1) for step in steps if abs(step) > MOVED]


def clocks_apart(heard: Heard) -> float:
    """Return the range (maximum minus minimum) of the difference between audio clock and session clock, in ms.

    A single reading of the audio hardware may be some milliseconds wrong on a busy machine. So the median of each window
    of two seconds is used.
    """
    apart = [each["audio"] * 1000 - each["mono"] for each in heard["clocks"]]
    middles = [median(apart[at : at + TOLD_WINDOW]) for at in range(TOLD_WINDOW, len(apart) - TOLD_WINDOW, TOLD_WINDOW)]
    return round(max(middles) - min(middles), 2) if middles else 0.0


def clock_lateness(heard: Heard, tones: Sequence[Tone]) -> list[float]:
    """Return for each tone how much later it was heard than it was due on the session's clock."""
    began = began_at(heard)
    return [_mono_at(heard["clocks"], tone.onset_seconds) - began - tone.due for tone in tones]


def drift(late: Sequence[float]) -> float:
    """Return the median lateness of the last fifth minus that of the first fifth."""
    fifth = max(1, len(late) // 5)
    return round(median(late[-fifth:]) - median(late[:fifth]), 2) if late else 0.0


def shown_before_kept(heard: Heard) -> int:
    """Return how many steps were on the screen before they were in the phone's storage."""
    kept: dict[int, float] = {}
    for each in heard["saved"]:
        if each["keptAt"]:
            kept[each["step"]] = min(kept.get(each["step"], each["keptAt"]), each["keptAt"])
    names = [each["text"].split("|")[0] for each in heard["shown"]]
    firsts = [each for name, before, each in zip(names, ["", *names], heard["shown"], strict=False) if name != before]
    began = sorted(kept.values())
    return sum(1 for first, at in zip(firsts[1:], began[1:], strict=False) if first["writtenAt"] < at - ROUNDING)


def _nearest(values: Sequence[float], to: float) -> float:
    index = bisect_left(values, to)
    return min(values[max(0, index - 1) : index + 1], key=lambda value: abs(value - to), default=float("inf"))


def _audio_at(clocks: Sequence[Mapping[str, float]], mono: float) -> float:
    near = min(clocks, key=lambda each: abs(each["mono"] - mono))
    return near["audio"] + (mono - near["mono"]) / 1000


def _mono_at(clocks: Sequence[Mapping[str, float]], audio: float) -> float:
    near = min(clocks, key=lambda each: abs(each["audio"] - audio))
    return near["mono"] + (audio - near["audio"]) * 1000

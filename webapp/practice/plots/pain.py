"""The track of pain: mornings as columns, the worst in a session as rings, the usual as a band, the limits as lines."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.dosing.figures import FLARED_RATING, SHARP_RATING
from webapp.practice.plots.days import PlotDay
from webapp.practice.plots.shapes import (
    DaySpan,
    PlotLabel,
    PlotPatch,
    across,
    box,
    dots,
    middle,
    near,
    patch,
    spans,
    spread,
)

MOST = 10
HEADROOM = 2
"""So much room above 10, in points of pain, for the words of versions and holds."""
HEIGHT = MOST + HEADROOM
COLUMN = (0.1, 0.58)
"""Where a morning's column begins and ends within its day; the ring of the day's session stands after it."""
RING = 0.82
CUT = 0.6
"""How much lower the left edge of a column is that is cut on the slant, in points of pain."""
FLAG_APART = 11.0
"""Words of versions stand at least so far apart, in per cent of the width."""
UNDER_FLAGS = 9.0
"""Fields of days begin so far down, in per cent, under the words of versions."""
WORD_APART = 7.0
FLARED, SHARP = int(FLARED_RATING.value), int(SHARP_RATING.value)


@dataclass(frozen=True)
class PainTrack:
    """Where everything of the track stands: across in days, down in points of pain from the top.

    Attributes:
        height: The height of the track, in points of pain.
        columns: The path of the mornings under 6.
        high: The path of the mornings from 6 up, cut on the slant.
        rings: The path of points of the worst in each session.
        sharp: The path of points of sharp pain.
        usual: The path of the band from 0 to the usual morning pain.
        numbers: The mornings from 6 up, each above its column.
        held: The fields of days held.
        away: The fields of days without the app.
        words: The words over the fields: held, away, or away and held at once.
        turns: The first day of each version that is in force on any of the days, counted from 0, and its number.
        flags: The labels of versions that have room.
        ticks: (value, per cent down) of the numbers at the edge.
        limits: (value, points down) of the limits.
    """

    height: int
    columns: str
    high: str
    rings: str
    sharp: str
    usual: str
    numbers: tuple[PlotLabel, ...]
    held: tuple[PlotPatch, ...]
    away: tuple[PlotPatch, ...]
    words: tuple[PlotLabel, ...]
    turns: tuple[tuple[int, int], ...]
    flags: tuple[PlotLabel, ...]
    ticks: tuple[tuple[int, float], ...]
    limits: tuple[tuple[int, int], ...]


def pain_track(days: Sequence[PlotDay]) -> PainTrack:
    """Lay out the pain of an arm's days; at least one day."""
    mornings = [(number, day.morning) for number, day in enumerate(days) if day.morning is not None]
    held, away, turns = spans(days, _is_held), spans(days, _is_away), _turns(days)
    return PainTrack(
        HEIGHT,
        "".join(_column(number, value) for number, value in mornings if value < FLARED),
        "".join(_cut_column(number, value) for number, value in mornings if value >= FLARED),
        dots((n + RING, _down(day.worst)) for n, day in enumerate(days) if day.worst is not None),
        dots((n + RING, _down(day.worst or SHARP)) for n, day in enumerate(days) if day.is_sharp),
        "".join(_band(span) for span in spans(days, lambda day: day.usual)),
        tuple(_number(n, value, len(days)) for n, value in mornings if value >= FLARED),
        tuple(patch(span, len(days), UNDER_FLAGS, 100) for span in held),
        tuple(patch(span, len(days), UNDER_FLAGS, 100) for span in away),
        _words(held, away, len(days)),
        turns,
        tuple(spread((PlotLabel(across(n, len(days)), 0, version) for n, version in turns), FLAG_APART)),
        _ticks(days[-1].usual),
        tuple((limit, _down(limit)) for limit in (FLARED, SHARP)),
    )


def _is_held(day: PlotDay) -> bool:
    return day.mode == "held"


def _is_away(day: PlotDay) -> bool:
    return day.is_away


def _words(held: Sequence[DaySpan], away: Sequence[DaySpan], days: int) -> tuple[PlotLabel, ...]:
    named = [(span, "held") for span in held] + [(span, "away") for span in away]
    labels = sorted(PlotLabel(middle(span, days), 13, name) for span, name in named)
    return tuple(spread(labels, WORD_APART))


def _down(value: int) -> int:
    return HEIGHT - value


def _column(number: int, value: int) -> str:
    # A morning without pain is a low stroke: it was told, unlike a morning that is missing.
    top = _down(value) if value else HEIGHT - 0.2
    return box(number + COLUMN[0], number + COLUMN[1], top, HEIGHT)


def _cut_column(number: int, value: int) -> str:
    left, right, top = number + COLUMN[0], number + COLUMN[1], _down(value)
    return f"M{near(left)} {HEIGHT}V{near(top + CUT)}L{near(right)} {top}V{HEIGHT}Z"


def _band(span: DaySpan) -> str:
    return box(span.first, span.end, _down(int(str(span.value))), HEIGHT)


def _number(number: int, value: int, days: int) -> PlotLabel:
    middle = number + sum(COLUMN) / 2
    return PlotLabel(across(middle, days), _per_cent(value + CUT / 2), value)


def _per_cent(value: float) -> float:
    return round(100 * (HEIGHT - value) / HEIGHT, 2)


def _turns(days: Sequence[PlotDay]) -> tuple[tuple[int, int], ...]:
    before = (0, *(day.version for day in days))
    changed = zip(days, before, strict=False)
    return tuple((number, day.version) for number, (day, last) in enumerate(changed) if day.version not in (0, last))


def _ticks(usual: int | None) -> tuple[tuple[int, float], ...]:
    values = sorted({0, FLARED, SHARP} | ({usual} if usual else set()))
    return tuple((value, _per_cent(value)) for value in values)

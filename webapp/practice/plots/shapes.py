"""Shapes that every track uses: spans of days, places across in per cent, steps, and paths."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from webapp.practice.plots.days import PlotDay


class DaySpan(NamedTuple):
    """Days that follow each other and are alike: the first, and the day after the last, counted from 0; and their value."""

    first: int
    end: int
    value: object

    @property
    def days(self) -> int:
        """How many days it has."""
        return self.end - self.first


class PlotLabel(NamedTuple):
    """A text beside a thing: its place across and down in per cent of the track, and what it says."""

    across: float
    down: float
    value: object


class PlotPatch(NamedTuple):
    """A hatched field: its left edge, top, width and height in per cent of the track."""

    left: float
    top: float
    width: float
    height: float


def spans(days: Sequence[PlotDay], value: Callable[[PlotDay], object]) -> list[DaySpan]:
    """Return the runs of days with the same value; days whose value is None, False, 0 or "" are left out."""
    found = []
    for key, run in groupby(enumerate(days), key=lambda each: value(each[1])):
        numbers = [number for number, _ in run]
        if key:
            found.append(DaySpan(numbers[0], numbers[-1] + 1, key))
    return found


def across(number: float, days: int) -> float:
    """Return a number of days from the left edge in per cent of the track's width."""
    return round(100 * number / days, 2)


def patch(span: DaySpan, days: int, top: float, bottom: float) -> PlotPatch:
    """Return the field over a span of days, between two heights in per cent from the top."""
    return PlotPatch(across(span.first, days), round(top, 2), across(span.days, days), round(bottom - top, 2))


def middle(span: DaySpan, days: int) -> float:
    """Return the middle of a span in per cent of the track's width."""
    return across((span.first + span.end) / 2, days)


def near(value: float) -> str:
    """Write a coordinate as short as possible."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def box(left: float, right: float, top: float, bottom: float) -> str:
    """Return a path around a rectangle."""
    return f"M{near(left)} {near(bottom)}V{near(top)}H{near(right)}V{near(bottom)}Z"


def dots(places: Iterable[tuple[float, float]]) -> str:
    """Return a path with a point at each place; a round pen makes each a dot, at any width."""
    return "".join(f"M{near(left)} {near(top)}h0" for left, top in places)


def spread(labels: Iterable[PlotLabel], least: float) -> Iterator[PlotLabel]:
    """Leave out each label that stands closer than `least` per cent to the one before it."""
    last = -least
    for label in labels:
        if label.across - last >= least:
            last = label.across
            yield label

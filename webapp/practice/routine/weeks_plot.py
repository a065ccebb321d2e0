"""The weeks ahead as a drawing: a band in which eight of ten virtual clients stay, and the middle one.

Lengths are the drawing's own, about a pixel each. Holds no sentence.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from webapp.forecast.ahead import Band

LEFT, FOOT, HEAD = 44, 34, 10
SIZES = {"wide": (720, 250), "narrow": (340, 200)}
WEEKS_APART = 2
LINES = 3


class Mark(NamedTuple):
    """A figure on an edge of the drawing, and how far along the edge it stands."""

    at: float
    figure: int


class DrawnBand(NamedTuple):
    """A band and the line of the middle, as paths; empty where there is none."""

    band: str
    middle: str


class WeeksPlot(NamedTuple):
    """A drawing of one size."""

    name: str
    width: int
    height: int
    left: int
    base: int
    after: DrawnBand
    now: DrawnBand
    weeks: Sequence[Mark]
    joules: Sequence[Mark]


def weeks_plots(after: Sequence["Band"], now: Sequence["Band"]) -> list[WeeksPlot]:
    """Draw the work of a day under the draft, and under the version in force; the latter may be empty."""
    return [_plot(name, after, now) for name in SIZES]


def _plot(name: str, after: Sequence["Band"], now: Sequence["Band"]) -> WeeksPlot:
    width, height = SIZES[name]
    base = height - FOOT
    most = max(band.high or 0 for band in (*after, *now))
    across, up = (width - LEFT - 12) / (len(after) - 1), (base - HEAD) / most

    def course(bands: Sequence["Band"]) -> DrawnBand:
        if not bands:
            return DrawnBand("", "")
        points = [
            [(LEFT + across * week, base - up * (cut or 0)) for week, cut in enumerate(cuts)]
            for cuts in zip(*bands, strict=True)
        ]
        low, middle, high = points
        return DrawnBand(_path([*high, *reversed(low)]) + "Z", _path(middle))

    step = _rounded(most / LINES)
    return WeeksPlot(
        name, width, height, LEFT, base, course(after), course(now),
        [Mark(round(LEFT + across * week, 1), week) for week in range(0, len(after), WEEKS_APART)],
        [Mark(round(base - up * joules, 1), joules) for joules in range(step, int(most) + 1, step)],
    )  # fmt: skip


def _path(points: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _rounded(joules: float) -> int:
    """Return a whole number of joules for the distance of two lines: 1, 2 or 5 times a power of ten, or a little less."""
    power = 1
    while power * 10 <= joules:
        power *= 10
    return max(power * factor for factor in (1, 2, 5) if power * factor <= max(joules, 1))

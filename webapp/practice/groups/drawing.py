"""The plots of a group: people by day, and people by their last morning. Height is people; returns no markup."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from webapp.dosing.figures import FLARED_RATING
from webapp.practice.groups.days import GroupDay
from webapp.practice.plots.shapes import DaySpan, PlotLabel, PlotPatch, across, box, near, patch

WEEK = 7
COLUMN = (0.12, 0.88)
"""Where a column begins and ends within its day, or within its rating."""
SORE_ROOM = 2
"""The track of sore mornings has room for so many people at least."""
BETWEEN = 0.15
"""How far the two tracks stand apart, as a share of all people."""
RATINGS = range(11)
CUT = 0.25
"""How much lower the left edge of a column is that is cut on the slant, as a share of its height."""


@dataclass(frozen=True)
class GroupPlot:
    """Where everything stands: across in days, down in people from the top. Both tracks have one scale.

    Attributes:
        count: The number of days.
        height: The height of both tracks together.
        ground: How far down the line lies on which sore mornings stand; sessions stand on the lowest line.
        trained, held, sore: Paths of columns.
        rested: The hatched fields of days of rest.
        begun: The path along the number of people who have the routine.
        ticks: The numbers at the edge.
        weeks: The date of each seventh day, counted back from the last.
        numbered: No day has a number of its own.
    """

    count: int
    height: float
    ground: float
    trained: str
    held: str
    sore: str
    rested: tuple[PlotPatch, ...]
    begun: str
    ticks: tuple[PlotLabel, ...]
    weeks: tuple[PlotLabel, ...]
    numbered: tuple[PlotLabel, ...] = ()


def group_plot(days: Sequence[GroupDay]) -> GroupPlot:
    """Lay out a group's days; at least one day."""
    most, sorest, count = max(day.begun for day in days) or 1, max(day.sore for day in days), len(days)
    ground = max(SORE_ROOM, sorest)
    height = round(ground + BETWEEN * most + most, 2)
    return GroupPlot(
        count,
        height,
        ground,
        _columns(((0, day.trained) for day in days), height),
        _columns(((day.trained + day.rested, day.held) for day in days), height),
        _columns(((0, day.sore) for day in days), ground),
        tuple(_rested(number, day, count, height) for number, day in enumerate(days) if day.rested),
        "M0 "
        + "".join(f"{near(height - day.begun)}H{number + 1}V" for number, day in enumerate(days)).removesuffix("V"),
        tuple(_ticks(sorest, most, ground, height)),
        tuple(PlotLabel(across(n + 0.5, count), 0, days[n].on) for n in range((count - 1) % WEEK, count, WEEK)),
    )


def _columns(stacked: Iterable[tuple[int, int]], foot: float) -> str:
    """Return the columns of people; each stands on so many others."""
    return "".join(
        box(number + COLUMN[0], number + COLUMN[1], foot - below - people, foot - below)
        for number, (below, people) in enumerate(stacked)
        if people
    )


def _rested(number: int, day: GroupDay, count: int, height: float) -> PlotPatch:
    top, bottom = (100 * (height - people) / height for people in (day.trained + day.rested, day.trained))
    field = patch(DaySpan(number, number + 1, None), count, top, bottom)
    width = COLUMN[1] - COLUMN[0]
    return field._replace(left=across(number + COLUMN[0], count), width=across(width, count))


def _ticks(sorest: int, most: int, ground: float, height: float) -> Iterator[PlotLabel]:
    for value, down in ((sorest, ground - sorest), (0, ground), (most, height - most), (0, height)):
        if value or down in (ground, height):
            yield PlotLabel(100, round(100 * down / height, 2), value)


@dataclass(frozen=True)
class MorningsPlot:
    """People by their last morning, 0 to 10: the paths of the ratings under 6, and of those from 6 up, cut on the slant."""

    most: int
    low: str
    high: str


def mornings_plot(mornings: Counter[int]) -> MorningsPlot:
    """Lay out the number of people by rating; at least one person."""
    most = max(mornings.values())
    counted = [mornings[rating] if rating < FLARED_RATING.value else 0 for rating in RATINGS]
    high = [(rating, mornings[rating]) for rating in RATINGS if mornings[rating] and rating >= FLARED_RATING.value]
    return MorningsPlot(
        most,
        _columns(((0, people) for people in counted), most),
        "".join(
            f"M{near(rating + COLUMN[0])} {most}V{near(most - people * (1 - CUT))}"
            f"L{near(rating + COLUMN[1])} {most - people}V{most}Z"
            for rating, people in high
        ),
    )

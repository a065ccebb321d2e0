"""All tracks of one arm over some days, and what one sentence says of them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from webapp.practice.plots.days import PlotDay
from webapp.practice.plots.pain import FLARED, PainTrack, pain_track
from webapp.practice.plots.shapes import PlotLabel, across, spans
from webapp.practice.plots.steps import StepTrack, rung_track, weight_track, work_track

FOUR_WEEKS, TWELVE_WEEKS = 28, 84
LEAST_DAYS = 14
"""A plot shows at least so many days, also at the start."""
DAYS_NUMBERED = 35
"""Up to so many days each day has its number; beyond, only the weeks are written."""
WEEK = 7


@dataclass(frozen=True)
class CoursePlot:
    """One arm's plot.

    Attributes:
        arm: right or left.
        days: Every day, the oldest first.
        pain: The track of pain.
        rung, weight, work: The tracks below it.
        numbered: The day of the month of each day; empty where there is no room.
        weeks: The date of each seventh day, counted back from today.
        sport: Places of days with sport, in per cent across.
    """

    arm: str
    days: tuple[PlotDay, ...]
    pain: PainTrack
    rung: StepTrack
    weight: StepTrack
    work: StepTrack
    numbered: tuple[PlotLabel, ...]
    weeks: tuple[PlotLabel, ...]
    sport: tuple[float, ...]

    @property
    def summary(self) -> "PlotSummary":
        """Return what one sentence says of the plot."""
        mornings = [day.morning for day in self.days if day.morning is not None]
        rungs = [day.rung for day in self.days if day.rung]
        return PlotSummary(
            self.days[0].on,
            self.days[-1].on,
            tuple(mornings),
            sum(value >= FLARED for value in mornings),
            (rungs[0], rungs[-1]) if rungs else None,
            sum(day.mode == "held" for day in self.days),
            sum(day.mode == "resting" for day in self.days),
        )


@dataclass(frozen=True)
class PlotSummary:
    """What a plot shows, in numbers: its days, its mornings, its first and last rung, its days held and of rest."""

    first: date
    last: date
    mornings: tuple[int, ...]
    high: int
    rungs: tuple[int, int] | None
    held: int
    resting: int


def course_plot(arm: str, days: Sequence[PlotDay]) -> CoursePlot:
    """Lay out one arm's days.

    Args:
        arm: right or left.
        days: From `plot_days`; at least one.
    """
    count = len(days)
    numbered = [PlotLabel(across(n + 0.5, count), 0, day.on.day) for n, day in enumerate(days)]
    weeks = [PlotLabel(across(n + 0.5, count), 0, days[n].on) for n in range((count - 1) % WEEK, count, WEEK)]
    return CoursePlot(
        arm,
        tuple(days),
        pain_track(days),
        rung_track(days),
        weight_track(days),
        work_track(days),
        tuple(numbered) if count <= DAYS_NUMBERED else (),
        tuple(weeks),
        tuple(across(n + 0.5, count) for span in spans(days, lambda day: day.has_sport) for n in range(*span[:2])),
    )

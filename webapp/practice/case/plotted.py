"""The plots on the case page: each arm over four weeks, or over twelve."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from flask import request

from webapp.practice import desk
from webapp.practice.plots.course import FOUR_WEEKS, LEAST_DAYS, TWELVE_WEEKS, CoursePlot, course_plot
from webapp.practice.plots.days import ONE_DAY, plot_days
from webapp.practice.plots.marks import marks_of
from webapp.practice.standing import Line
from webapp.records.routines import RoutineVersion


def about_plots(line: Line, versions: Sequence[RoutineVersion]) -> dict[str, Any]:
    """Return each arm's plot, and whether it shows twelve weeks, for the case page."""
    weeks = request.args.get("weeks", type=int)
    is_long = weeks is not None and weeks * 7 >= TWELVE_WEEKS
    return {"plots": plots_of(line, versions, TWELVE_WEEKS if is_long else FOUR_WEEKS), "has_long_plots": is_long}


def plots_of(line: Line, versions: Sequence[RoutineVersion], days: int) -> list[CoursePlot]:
    """Return the plot of each arm that is shown, over the last days, today included."""
    first = _first_day(line, days)
    marks = marks_of(desk.records(), line.case.id, first, line.today)
    return [
        course_plot(stand.arm, plot_days(stand.account, versions, first, line.today, marks)) for stand in line.standings
    ]


def _first_day(line: Line, days: int) -> date:
    """Return the first day that is shown: so many days with today, but nothing from long before the first routine."""
    begun = line.today - ((line.day or 1) - 1) * ONE_DAY
    return min(max(line.today - (days - 1) * ONE_DAY, begun), line.today - (LEAST_DAYS - 1) * ONE_DAY)

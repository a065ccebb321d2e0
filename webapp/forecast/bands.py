"""Where most virtual clients are, week by week: the 10th, 50th and 90th percentile of each kind."""

from typing import Any

import numpy as np

from webapp.forecast.course import CohortCourse
from webapp.forecast.intervals import Redraw
from webapp.forecast.kernels import Floats
from webapp.forecast.measures import capacity_gained, flare_days, weeks_to_do, weeks_to_settle
from webapp.forecast.prescribers import TRAINING, Tables
from webapp.forecast.question import Goal
from webapp.forecast.responders import Flags

CUTS = (10, 50, 90)
SUBJECTS = ("rung", "work_j", "morning", "rest_share")


def finite(value: float) -> float | None:
    """Return a number for JSON, rounded; None for infinity, which means never."""
    return round(value, 4) if np.isfinite(value) else None


def _band(values: Floats) -> list[float | None]:
    return [finite(float(cut)) for cut in np.percentile(values, CUTS, method="inverted_cdf")]


def _weekly(tables: Tables, course: CohortCourse) -> dict[str, Floats]:
    """Return each subject as an array of (days, clients)."""
    return {
        "rung": tables.rung[course.row].astype(float),
        "work_j": tables.work[course.row],
        "morning": course.morning.astype(float),
        "rest_share": (tables.mode[course.row] != TRAINING).astype(float),
    }


def _week(subjects: dict[str, Floats], number: int, who: Flags) -> dict[str, Any]:
    days = slice(7 * number, 7 * number + 7)
    row: dict[str, Any] = {"week": number + 1}
    for name, values in subjects.items():
        week = values[days][:, who]
        row[name] = _band(week[-1] if name == "rung" else week.mean(axis=0))
    return row


def bands(tables: Tables, course: CohortCourse, goal: Goal, seed: int) -> list[dict[str, Any]]:
    """Summarize a course under our rules.

    Args:
        tables: The tables that the course followed.
        course: A course of whole weeks.
        goal: The work to be reached.
        seed: The seed for the intervals.

    Returns:
        One dict for each kind. `kind` is its id. `weeks` has a row for each week: `week`, and for each of `SUBJECTS`
        the 10th, 50th and 90th percentile; `rung` is that of the week's last day, the others are daily means of the
        week. `weeks_to_goal` and `weeks_to_settle` are the same percentiles, None for never. `flare_days` and
        `capacity_gained` are a mean and its 95 % interval.
    """
    subjects, goal_j = _weekly(tables, course), goal.work_j(tables.plan.client.body)
    to_do, to_settle = weeks_to_do(course, goal_j), weeks_to_settle(course, goal_j)
    flares, gained = flare_days(course), capacity_gained(course)
    rows = []
    for number, kind in enumerate(course.cohort.kinds):
        who = course.cohort.kind == number
        redraw = Redraw(int(who.sum()), seed)
        weeks = [_week(subjects, week, who) for week in range(course.cohort.days // 7)]
        row = {
            "kind": kind,
            "weeks": weeks,
            "weeks_to_goal": _band(to_do[who]),
            "weeks_to_settle": _band(to_settle[who]),
        }
        row["flare_days"] = [finite(part) for part in redraw.of_mean(flares[who])]
        row["capacity_gained"] = [finite(part) for part in redraw.of_mean(gained[who])]
        rows.append(row)
    return rows

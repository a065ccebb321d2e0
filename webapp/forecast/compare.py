"""The same virtual clients under our rules and under plans on paper, side by side."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from webapp.forecast.bands import finite
from webapp.forecast.course import CohortCourse, Tick, run
from webapp.forecast.fixed_plans import FIXED_PLANS, NO_EXERCISE, FixedPlan, Sheet
from webapp.forecast.intervals import Interval, Redraw
from webapp.forecast.measures import capacity_gained, flare_days, weeks_to_do, weeks_to_settle
from webapp.forecast.prescribers import OurRules, Tables
from webapp.forecast.question import Goal
from webapp.forecast.responders import Cohort, Flags

OURS = "our-rules"
LAST_WEEK = 7


def _told(interval: Interval) -> list[float | None]:
    return [finite(part) for part in interval]


def _measured(course: CohortCourse, ours: CohortCourse, goal_j: float, who: Flags, redraw: Redraw) -> dict[str, Any]:
    to_do, to_settle = weeks_to_do(course, goal_j)[who], weeks_to_settle(course, goal_j)[who]
    flares, gained = flare_days(course)[who], capacity_gained(course)[who]
    return {
        "flare_days": _told(redraw.of_mean(flares)),
        "flare_days_over_ours": _told(redraw.of_mean(flares - flare_days(ours)[who])),
        "weeks_to_goal": _told(redraw.of_median(to_do)),
        "weeks_to_settle": _told(redraw.of_median(to_settle)),
        "settled_at_goal_share": finite(float(np.isfinite(to_settle).mean())),
        "capacity_gained": _told(redraw.of_mean(gained)),
        "capacity_over_ours": _told(redraw.of_mean(gained - capacity_gained(ours)[who])),
        "last_week_morning": _told(redraw.of_mean(course.morning[-LAST_WEEK:, who].mean(axis=0))),
    }


def _courses(tables: Tables, cohort: Cohort, plans: Sequence[FixedPlan], tick: Tick) -> dict[str, CohortCourse]:
    body = tables.plan.client.body
    courses = {OURS: run(OurRules(tables, cohort.count), cohort, tables.plan, tick)}
    for plan in plans:
        courses[plan.id] = run(Sheet(plan, body, cohort.count), cohort, tables.plan, tick)
    return courses


def compare(
    tables: Tables,
    cohort: Cohort,
    goal: Goal,
    seed: int,
    plans: Sequence[FixedPlan] = FIXED_PLANS,
    tick: Tick = lambda: None,
) -> list[dict[str, Any]]:
    """Run one cohort under every plan.

    Args:
        tables: Our rules.
        cohort: The clients; every plan meets the same clients and days.
        goal: The work to be reached.
        seed: The seed for the intervals.
        plans: The plans to compare with.
        tick: Called once for each day of each plan.

    Returns:
        One dict for each plan and kind, our rules first: `plan`, `source` and `kind`, and figures with their 95 %
        interval, as (figure, low, high). `flare_days`, `capacity_gained` and `last_week_morning` are means.
        `weeks_to_goal` and `weeks_to_settle` are medians, None for never. `flare_days_over_ours` and
        `capacity_over_ours` are means of the differences to our rules, client by client. `settled_at_goal_share` is a
        plain number.
    """
    goal_j, courses = goal.work_j(tables.plan.client.body), _courses(tables, cohort, plans, tick)
    sources = {OURS: "own-choice"} | {plan.id: plan.source for plan in plans}
    rows = []
    for number, kind in enumerate(cohort.kinds):
        who = cohort.kind == number
        redraw = Redraw(int(who.sum()), seed)
        for name, course in courses.items():
            head = {"plan": name, "source": sources[name], "kind": kind}
            rows.append(head | _measured(course, courses[OURS], goal_j, who, redraw))
    return rows


def _is_under(first: float | None, second: float | None) -> bool:
    """Say whether the first bound is less than the second; None means never."""
    return first is not None and (second is None or first < second)


def better_than_ours(rows: Sequence[dict[str, Any]]) -> dict[str, dict[str, list[str]]]:
    """Name the plans that do better than our rules by more than their intervals.

    Args:
        rows: The result of `compare`.

    Returns:
        For each kind, the plans with `fewer_flare_days`, those `sooner` settled at the goal, and those with
        `more_capacity`. The plan without exercise is left out.
    """
    by_kind: dict[str, dict[str, list[str]]] = {}
    ours = {row["kind"]: row for row in rows if row["plan"] == OURS}
    for row in rows:
        better = by_kind.setdefault(row["kind"], {"fewer_flare_days": [], "sooner": [], "more_capacity": []})
        if row["plan"] == NO_EXERCISE.id:
            continue
        if row["flare_days_over_ours"][2] < 0:
            better["fewer_flare_days"].append(row["plan"])
        if _is_under(row["weeks_to_settle"][2], ours[row["kind"]]["weeks_to_settle"][1]):
            better["sooner"].append(row["plan"])
        if row["capacity_over_ours"][1] > 0:
            better["more_capacity"].append(row["plan"])
    return by_kind

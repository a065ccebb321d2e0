"""The runs, and what they come to for each population and kind."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from webapp.dosing.plan import Plan
from webapp.forecast.bands import finite
from webapp.forecast.course import CohortCourse, Tick, run
from webapp.forecast.figures import KINDS, SEEDS
from webapp.forecast.fixed_plans import GENTLEST, Sheet
from webapp.forecast.measures import flare_days, flare_days_to_goal, stands_still, weeks_to_do
from webapp.forecast.populations import POPULATIONS, Population
from webapp.forecast.prescribers import OurRules, Prescriber, Tables
from webapp.forecast.question import Question
from webapp.forecast.responders import draw

RUNS = ("ours", "acting", "paper")
"""Our rules with the practitioner who only releases, with the one who acts, and the gentlest plan on paper."""
WEEK = 7
Row = dict[str, Any]
Numbers = dict[str, NDArray[Any]]


def seeds_of(asked: Question) -> list[int]:
    """Return the seeds of a trial: the one asked for, and those that follow it."""
    return [asked.seed + number for number in range(int(SEEDS.value))]


def ticks(asked: Question) -> int:
    """Return how many days of how many runs a trial has in all."""
    return asked.days * len(RUNS) * len(POPULATIONS) * len(seeds_of(asked))


def _measured(course: CohortCourse, goal_j: float) -> Numbers:
    return {
        "flare_days": flare_days(course),
        "flare_days_to_goal": flare_days_to_goal(course, goal_j),
        "goal_day": weeks_to_do(course, goal_j) * WEEK,
    }


def _lived(tables: Tables, population: Population, asked: Question, seed: int, tick: Tick) -> Numbers:
    """Run one population with one seed; each number of each run as (clients,), kind after kind."""
    client = tables.plan.client
    cohort, goal_j = (
        draw(client, asked.clients, asked.days, seed, population=population),
        asked.goal.work_j(client.body),
    )
    prescribers: dict[str, Prescriber] = {
        "ours": OurRules(tables, cohort.count),
        "acting": OurRules(tables, cohort.count, acts=True),
        "paper": Sheet(GENTLEST, client.body, cohort.count),
    }
    numbers: Numbers = {"kind": cohort.kind}
    for name in RUNS:
        course = run(prescribers[name], cohort, tables.plan, tick)
        numbers |= {f"{name}.{measure}": values for measure, values in _measured(course, goal_j).items()}
        if name != "paper":
            numbers[f"{name}.standing_still"] = stands_still(course, tables, goal_j)
    return numbers


def _summed_up(numbers: Numbers) -> Row:
    """Return the median of each day of the goal, the mean of everything else."""
    return {
        name: finite(float(np.median(values) if name.endswith(".goal_day") else values.mean()))
        for name, values in numbers.items()
        if name != "kind"
    }


def _rows(population: Population, numbers: Numbers) -> list[Row]:
    rows = []
    for number, kind in enumerate(KINDS):
        who = numbers["kind"] == number
        head = {"population": population.id, "kind": kind.id}
        rows.append(head | _summed_up({name: values[who] for name, values in numbers.items()}))
    return rows


def _pooled(by_seed: Sequence[Numbers]) -> Numbers:
    return {name: np.concatenate([numbers[name] for numbers in by_seed]) for name in by_seed[0]}


class _TablesByUsual:
    """The tables of every agreed usual pain, each made once."""

    def __init__(self, plan: Plan) -> None:
        self._plan, self._made = plan, dict[int, Tables]()

    def of(self, population: Population) -> Tables:
        plan = population.plan_for(self._plan)
        if plan.client.usual not in self._made:
            self._made[plan.client.usual] = Tables(plan)
        return self._made[plan.client.usual]


def try_all(plan: Plan, asked: Question, tick: Tick = lambda: None) -> tuple[list[Row], list[list[Row]]]:
    """Run every population with every seed.

    Args:
        plan: A routine fitted to a client, both free of faults.
        asked: How far, how many of each kind, the first seed, the goal.
        tick: Called once for each day of each run.

    Returns:
        A row for each population and kind over the clients of all seeds; and the same rows seed by seed. A row holds
        `population`, `kind`, and for each of `RUNS` as `run.number`: `flare_days`, `flare_days_to_goal` (means),
        `goal_day` (median; None for never), and but for paper `standing_still` (a share).
    """
    tables, pooled = _TablesByUsual(plan), list[Row]()
    apart: list[list[Row]] = [[] for _ in seeds_of(asked)]
    for population in POPULATIONS:
        its_tables = tables.of(population)
        by_seed = [_lived(its_tables, population, asked, seed, tick) for seed in seeds_of(asked)]
        pooled += _rows(population, _pooled(by_seed))
        for number, numbers in enumerate(by_seed):
            apart[number] += _rows(population, numbers)
    return pooled, apart

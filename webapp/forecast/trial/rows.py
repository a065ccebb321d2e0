"""The runs of the trial, and their numbers for each population and kind."""

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


def seeds_of(question: Question) -> list[int]:
    """Return the seeds of a trial: the seed of the question, and the numbers after it."""
    return [question.seed + number for number in range(int(SEEDS.value))]


def ticks(question: Question) -> int:
    """Return the number of days of all runs of a trial together."""
    return question.days * len(RUNS) * len(POPULATIONS) * len(seeds_of(question))


def _measured(course: CohortCourse, goal_j: float) -> Numbers:
    return {
        "flare_days": flare_days(course),
        "flare_days_to_goal": flare_days_to_goal(course, goal_j),
        "goal_day": weeks_to_do(course, goal_j) * WEEK,
    }


def _lived(tables: Tables, population: Population, question: Question, seed: int, tick: Tick) -> Numbers:
    """Run one population with one seed; return each number of each run, of shape (clients,)."""
    client = tables.plan.client
    cohort, goal_j = (
        draw(client, question.clients, question.days, seed, population=population),
        question.goal.work_j(client.body),
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
    """Return the median of the numbers named `goal_day`, and the mean of the others."""
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
    """Caches the tables by the agreed usual pain."""

    def __init__(self, plan: Plan) -> None:
        self._plan, self._made = plan, dict[int, Tables]()

    def of(self, population: Population) -> Tables:
        plan = population.plan_for(self._plan)
        if plan.client.usual not in self._made:
            self._made[plan.client.usual] = Tables(plan)
        return self._made[plan.client.usual]


def try_all(plan: Plan, question: Question, tick: Tick = lambda: None) -> tuple[list[Row], list[list[Row]]]:
    """Run every population with every seed.

    Args:
        plan: A routine fitted to a client, both free of faults.
        question: Weeks, clients of each kind, the first seed, the goal.
        tick: Called once for each day of each run.

    Returns:
        Two lists. The first has a row for each population and kind, over the clients of all seeds. The second has, for
        each seed, the same rows of that seed. A row has `population` and `kind`, and for each of `RUNS`, with keys such
        as `ours.flare_days`: `flare_days` and `flare_days_to_goal` (means), `goal_day` (median; None for never), and,
        except for `paper`, `standing_still` (a share).
    """
    tables, pooled = _TablesByUsual(plan), list[Row]()
    apart: list[list[Row]] = [[] for _ in seeds_of(question)]
    for population in POPULATIONS:
        its_tables = tables.of(population)
        by_seed = [_lived(its_tables, population, question, seed, tick) for seed in seeds_of(question)]
        pooled += _rows(population, _pooled(by_seed))
        for number, numbers in enumerate(by_seed):
            apart[number] += _rows(population, numbers)
    return pooled, apart

"""The run: a cohort follows a prescriber day by day, all clients at once."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from webapp.dosing.plan import Plan
from webapp.forecast.arms import Arms, Ratings, rated
from webapp.forecast.diary import UNKNOWN, Day, RecentMornings, classes, done_class, shifted
from webapp.forecast.kernels import Floats
from webapp.forecast.prescribers import OurRules, Prescriber
from webapp.forecast.responders import Cohort
from webapp.forecast.steps import Whole

Tick = Callable[[], object]


@dataclass(frozen=True)
class CohortCourse:
    """What happened. Each field has the shape (days, clients); a missing rating or index is -1.

    Attributes:
        cohort: The clients.
        asked_j: Joules of the sore direction that the day asked; 0 on a day of rest.
        done: Joules of that work that were done.
        during: The client's rating of the sessions, reported or not: the pain that was felt, with the error of ratings.
        morning: The client's rating of the next morning, likewise.
        reported_during, reported_morning: The ratings as the client reported them.
        truth: The true response, as an index into `RESPONSES`: from the pain felt and the true usual morning pain.
        response: The response by the rules, as such an index: from the reports and the settings in force. Only under
            our rules.
        tolerance: Joules that leave no soreness, at the end of the day.
        row: The almanac's row at the start of the day; only under our rules.
    """

    cohort: Cohort
    asked_j: Floats
    done: Floats
    during: Ratings
    morning: Ratings
    reported_during: Ratings
    reported_morning: Ratings
    truth: Whole
    response: Whole
    tolerance: Floats
    row: Whole


@dataclass
class _Pages:
    """Collects the fields of a course, a row for each day."""

    rows: dict[str, list[Any]] = field(default_factory=dict)

    def write(self, **day: Floats | Whole) -> None:
        for name, row in day.items():
            self.rows.setdefault(name, []).append(row)

    def bound(self, cohort: Cohort) -> CohortCourse:
        return CohortCourse(cohort, **{name: np.array(rows) for name, rows in self.rows.items()})


class _Run:
    """A run in progress: the arms, and the last mornings twice, as they were felt and as they were reported."""

    def __init__(self, prescriber: Prescriber, arms: Arms, plan: Plan) -> None:
        cohort = arms.cohort
        self.prescriber, self.cohort = prescriber, cohort
        self.arms, self.pages = arms, _Pages()
        self.felt, self.reported = RecentMornings(cohort.count), RecentMornings(cohort.count)
        self.truth = classes(cohort.population.true_usual(plan.client.usual), plan.tuning)

    def live(self, day: int) -> None:
        """Run one day: the work, the night, the report."""
        asked_j = self.prescriber.ask()
        share = np.where(self.cohort.missed[day] | (asked_j <= 0), 0.0, self.cohort.population.done_share)
        work = asked_j * share
        session, morning = self.arms.feel(work), self.arms.sleep(work)
        done = done_class(share)
        felt = self.felt.write(done, np.where(work > 0, rated(session), UNKNOWN), rated(morning))
        row = self.prescriber.at.row if isinstance(self.prescriber, OurRules) else np.full(self.cohort.count, -1)
        self.pages.write(asked_j=asked_j, done=work, tolerance=self.arms.tolerance, truth=self.truth[felt], row=row)
        during = np.where(work > 0, rated(session + self.cohort.session_noise[day]), UNKNOWN)
        self._report(done, during, rated(morning + self.cohort.morning_noise[day]), day)

    def _report(self, done: Whole, during: Ratings, morning: Ratings, day: int) -> None:
        population = self.cohort.population
        is_reported = ~self.cohort.unreported[day] & population.rates_mornings
        reported = shifted(during, population, population.rates_sessions), shifted(morning, population, is_reported)
        response = self.prescriber.close(Day(during, morning, self.reported.write(done, *reported)))
        self.pages.write(during=during, morning=morning, response=response)
        self.pages.write(reported_during=reported[0], reported_morning=reported[1])


def run(prescriber: Prescriber, cohort: Cohort, plan: Plan, tick: Tick = lambda: None) -> CohortCourse:
    """Run a cohort through all its days.

    Args:
        prescriber: A prescriber at its first day. The run changes it, so it cannot be used again.
        cohort: The clients; the run has as many days as were drawn for them.
        plan: Holds the agreed usual morning pain and the settled ceiling, by which true responses are classed.
        tick: Called once a day, to show progress.
    """
    going = _Run(prescriber, Arms(cohort), plan)
    for day in range(cohort.days):
        going.live(day)
        tick()
    return going.pages.bound(cohort)


def continue_run(prescriber: Prescriber, arms: Arms, plan: Plan, mornings: Sequence[int]) -> CohortCourse:
    """Run a cohort on from a day in the middle; the course holds the days from there on.

    Args:
        prescriber: The prescriber of the days ahead. The run changes it, and the arms.
        arms: The arms as they stand at the start of the first day ahead.
        plan: As for `run`.
        mornings: The reported mornings of the days before, the oldest first; -1 for one that was not told.
    """
    going = _Run(prescriber, arms, plan)
    for recent in (going.felt, going.reported):
        recent.know(mornings)
    for day in range(arms.day, arms.cohort.days):
        going.live(day)
    return going.pages.bound(arms.cohort)

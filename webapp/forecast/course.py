"""The run: a cohort follows a prescriber day after day, every client at once."""

from collections.abc import Callable
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
    """What happened, each field of shape (days, clients); a rating or an index is -1 where there is none.

    Attributes:
        cohort: Who ran.
        asked: Joules of the sore direction that the day asked; 0 on a day of rest.
        done: The same, as far as it was done.
        during: The rating of the sessions, whether reported or not: what was felt, as far off as ratings are.
        morning: That of the next morning.
        reported_during, reported_morning: The same, as they were reported.
        truth: Index into `RESPONSES`: the day by what the arm really felt and by the true usual morning pain.
        response: The same, by what was reported and by the settings in force; only under our rules.
        tolerance: Joules that leave no soreness, at the day's end.
        row: The almanac's row at the day's start, only under our rules.
    """

    cohort: Cohort
    asked: Floats
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
    """One list for each field of a course, a row a day."""

    rows: dict[str, list[Any]] = field(default_factory=dict)

    def write(self, **day: Floats | Whole) -> None:
        for name, row in day.items():
            self.rows.setdefault(name, []).append(row)

    def bound(self, cohort: Cohort) -> CohortCourse:
        return CohortCourse(cohort, **{name: np.array(rows) for name, rows in self.rows.items()})


class _Run:
    """A cohort on its way: its arms, and two diaries, of what is really felt and of what is reported."""

    def __init__(self, prescriber: Prescriber, cohort: Cohort, plan: Plan) -> None:
        self.prescriber, self.cohort = prescriber, cohort
        self.arms, self.pages = Arms(cohort), _Pages()
        self.felt, self.reported = RecentMornings(cohort.count), RecentMornings(cohort.count)
        self.truth = classes(cohort.population.true_usual(plan.client.usual), plan.tuning)

    def live(self, day: int) -> None:
        """Do a day's work, sleep, and report."""
        asked = self.prescriber.ask()
        share = np.where(self.cohort.missed[day] | (asked <= 0), 0.0, self.cohort.population.done_share)
        work = asked * share
        session, morning = self.arms.feel(work), self.arms.sleep(work)
        done = done_class(share)
        felt = self.felt.write(done, np.where(work > 0, rated(session), UNKNOWN), rated(morning))
        row = self.prescriber.at.row if isinstance(self.prescriber, OurRules) else np.full(self.cohort.count, -1)
        self.pages.write(asked=asked, done=work, tolerance=self.arms.tolerance, truth=self.truth[felt], row=row)
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
        prescriber: At its first day; used up by the run.
        cohort: Its days are the run's.
        plan: Holds the agreed usual morning pain and the ceiling by which the true flares are counted.
        tick: Called once a day, for whoever shows progress.
    """
    going = _Run(prescriber, cohort, plan)
    for day in range(cohort.days):
        going.live(day)
        tick()
    return going.pages.bound(cohort)

"""The run: a cohort follows a prescriber day after day, every client at once."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from webapp.dosing.responses import DURING_AXIS
from webapp.forecast.arms import Arms, Ratings
from webapp.forecast.kernels import Floats
from webapp.forecast.prescribers import OurRules, Places, Prescriber
from webapp.forecast.responders import Cohort

FIRST_RATING = DURING_AXIS.index(0)
Tick = Callable[[], object]


@dataclass(frozen=True)
class Course:
    """What happened, each field of shape (days, clients).

    Attributes:
        cohort: Who ran.
        asked: Joules of the sore direction that the day asked; 0 on a day of rest.
        done: The same, as far as it was done.
        during: The sessions' rating, -1 where there was none.
        morning: The next morning's rating, whether reported or not.
        reported: The same, -1 where it was not reported.
        response: Index into `RESPONSES`.
        tolerance: Joules that leave no soreness, at the day's end.
        state: Index into the almanac's states under our rules, else -1.
    """

    cohort: Cohort
    asked: Floats
    done: Floats
    during: Ratings
    morning: Ratings
    reported: Ratings
    response: Places
    tolerance: Floats
    state: Places


@dataclass
class _Pages:
    """One list for each field of a course, a row a day."""

    rows: dict[str, list[Any]] = field(default_factory=dict)

    def write(self, **day: Floats | Places) -> None:
        for name, row in day.items():
            self.rows.setdefault(name, []).append(row)

    def bound(self, cohort: Cohort) -> Course:
        return Course(cohort, **{name: np.array(rows) for name, rows in self.rows.items()})


def run(prescriber: Prescriber, cohort: Cohort, cube: Places, tick: Tick = lambda: None) -> Course:
    """Run a cohort through all its days.

    Args:
        prescriber: At its first day; used up by the run.
        cohort: Its days are the run's.
        cube: The classes by (during, morning, before), as `Tables.cube`.
        tick: Called once a day, for whoever shows progress.
    """
    arms, pages = Arms(cohort), _Pages()
    before = np.zeros(cohort.count, dtype=np.int64)
    for day in range(cohort.days):
        state = prescriber.state if isinstance(prescriber, OurRules) else np.full(cohort.count, -1)
        asked = prescriber.ask()
        done = np.where(cohort.missed[day], 0.0, asked)
        during = np.where(done > 0, arms.feel(done), -1)
        morning = arms.sleep(done)
        reported = np.where(cohort.unreported[day], -1, morning)
        rated = np.where(during < 0, 0, during + FIRST_RATING)
        response = cube[rated, reported + 1, before]
        prescriber.close(response, during, morning)
        before = np.where(reported < 0, before, reported + 1)
        pages.write(asked=asked, done=done, during=during, morning=morning, reported=reported)
        pages.write(response=response, tolerance=arms.tolerance, state=state)
        tick()
    return pages.bound(cohort)

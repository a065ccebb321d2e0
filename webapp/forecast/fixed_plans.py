"""Plans on paper: a number of lifts with a weight, more by the calendar, whatever the mornings are.

`chosen` names the fields that a source leaves open; their values are our own choice.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from webapp.dosing.figures import FLARED_RATING, POUND, SHARP_RATING
from webapp.dosing.settings import Body
from webapp.forecast import figures
from webapp.forecast.arms import Ratings
from webapp.forecast.diary import Day
from webapp.forecast.kernels import Floats
from webapp.forecast.question import lift_j
from webapp.forecast.steps import Whole

LB = POUND.value
MOST_LEVELS = 400


@dataclass(frozen=True)
class FixedPlan:
    """One plan on paper.

    Attributes:
        id: Stable word; the key of its name in words/.
        source: A key of content/sources.toml.
        sets, reps: Sets and reps of the day's session, in the sore direction.
        first_kg: The weight to begin with, by sex.
        step_kg, step_share, step_reps: What each step adds: kilograms, a share of the weight, reps.
        every_days: Days between two steps; 0 where a step waits until the lifts are easy.
        most_kg, most_reps: The highest weight and the most reps.
        chosen: The fields that the source leaves open.
    """

    id: str
    source: str
    sets: int
    reps: int
    first_kg: Mapping[str | None, float]
    step_kg: float = 0.0
    step_share: float = 0.0
    step_reps: int = 0
    every_days: int = 7
    most_kg: float = 5 * LB
    most_reps: int = 30
    chosen: tuple[str, ...] = ()

    def work_j(self, body: Body, level: int) -> float:
        """Return a day's work after `level` steps, joules of the sore direction."""
        load_kg = self.first_kg[body.sex] * (1 + self.step_share) ** level + self.step_kg * level
        reps = min(self.most_reps, self.reps + self.step_reps * level)
        return self.sets * reps * lift_j(body, min(load_kg, self.most_kg))


def _for_all(load_kg: float) -> Mapping[str | None, float]:
    return MappingProxyType({"female": load_kg, "male": load_kg, None: load_kg})


NO_EXERCISE = FixedPlan("no-exercise", "own-choice", 0, 0, _for_all(0.0))
FIXED_PLANS = (
    # Where the sex is not known, the lighter weight is used.
    FixedPlan("weekly-step", "peterson-2011", 3, 15, MappingProxyType({"female": 1.0, "male": 2.0, None: 1.0}),
              step_kg=0.1, most_kg=5.0, chosen=("most_kg",)),
    FixedPlan("when-easy", "finestone-2008", 2, 10, _for_all(LB), step_kg=LB, every_days=0, chosen=("most_kg",)),
    FixedPlan("three-fifteens", "tyler-2010", 3, 15, _for_all(LB), chosen=("first_kg", "step_kg")),
    FixedPlan("tenth-weekly", "svernlov-2001", 3, 5, _for_all(LB), step_share=0.10, chosen=("first_kg", "most_kg")),
    FixedPlan("pound-a-fortnight", "common-practice", 1, 10, _for_all(LB), step_kg=LB, every_days=14),
    FixedPlan("reps-weekly", "common-practice", 1, 10, _for_all(LB), step_reps=2, chosen=("step_reps", "most_reps")),
    NO_EXERCISE,
)  # fmt: skip

GENTLEST = next(plan for plan in FIXED_PLANS if plan.id == "pound-a-fortnight")
"""Of the plans on paper that reach the goal, the one with the fewest flare days."""


class Sheet:
    """Follows one plan on paper, all clients at once. A client in strong pain rests, although the plan does not say so."""

    def __init__(self, plan: FixedPlan, body: Body, clients: int) -> None:
        self.plan = plan
        self._work = np.array([plan.work_j(body, level) for level in range(MOST_LEVELS)])
        self._level: Whole = np.zeros(clients, dtype=np.int64)
        self._day = 0
        self._easy_days: Whole = np.zeros(clients, dtype=np.int64)
        self._before: Ratings | None = None
        self._stopped = np.zeros(clients, dtype=bool)

    def ask(self) -> Floats:
        """Return the work of each client's present step; 0 while the client rests."""
        work: Floats = np.where(self._stopped, 0.0, self._work[self._level])
        return work

    def close(self, day: Day) -> Whole:
        """Go on to the next step by the calendar, or by how easy the lifts were."""
        during, morning = day.during, day.morning
        self._day += 1
        badly = np.maximum(during, morning) >= SHARP_RATING.value
        self._stopped = badly | (self._stopped & (morning >= FLARED_RATING.value))
        if self.plan.every_days:
            self._level[:] = self._day // self.plan.every_days
        else:
            self._by_ease(during, morning)
        self._before = morning
        return np.full(morning.size, -1)

    def _by_ease(self, during: Ratings, morning: Ratings) -> None:
        before = morning if self._before is None else self._before
        rose = morning >= before + figures.HEED_RISE.value
        easy = (during >= 0) & (during <= figures.EASY_RATING.value) & (morning <= before)
        self._easy_days = np.where(easy, self._easy_days + 1, np.where(during < 0, self._easy_days, 0))
        ready = self._easy_days >= figures.EASY_DAYS.value
        self._level = np.clip(self._level + ready - rose, 0, MOST_LEVELS - 1)
        self._easy_days[ready | rose] = 0

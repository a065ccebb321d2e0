"""The question of a forecast: weeks, clients, seed and goal. Does not import numpy, so it loads fast."""

from typing import NamedTuple

from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.figures import POUND
from webapp.dosing.settings import Body

SORE_DIRECTION = "extension"
"""The direction whose work a sore outer elbow feels (palm down). Palm up, for the inner elbow, is the same work."""


def lift_j(body: Body, load_kg: float) -> float:
    """Return the work of one lift in the sore direction at full range, joules."""
    return work_of_rep_j(body, load_kg, *arc_degrees(SORE_DIRECTION))


class Goal(NamedTuple):
    """The goal: the work of `reps` lifts of `load_lb` pounds in a day, with whatever weights it is done."""

    load_lb: float = 3.0
    reps: int = 15

    def work_j(self, body: Body) -> float:
        """Return the day's work in the sore direction, joules."""
        return self.reps * lift_j(body, self.load_lb * POUND.value)


class Question(NamedTuple):
    """What a forecast runs: weeks, virtual clients of each kind, the seed, the goal."""

    weeks: int = 12
    clients: int = 500
    seed: int = 1
    goal: Goal = Goal()

    @property
    def days(self) -> int:
        """The weeks in days."""
        return 7 * self.weeks

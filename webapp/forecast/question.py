"""What a forecast is asked: how far, how many, which dice, which goal. Knows no array, so that it loads at once."""

from typing import NamedTuple

from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.figures import POUND
from webapp.dosing.settings import Body

SORE_DIRECTION = "extension"
"""The work that a sore elbow feels: palm down for the outer one. Palm up, for the inner, asks the same work."""


def lift_j(body: Body, load_kg: float) -> float:
    """Give the work of one lift in the sore direction at full range, joules."""
    return work_of_rep_j(body, load_kg, *arc_degrees(SORE_DIRECTION))


class Goal(NamedTuple):
    """So many lifts of so many pounds in a day: the work, in whatever weights it is done."""

    load_lb: float = 3.0
    reps: int = 15

    def work_j(self, body: Body) -> float:
        """Give the day's work in the sore direction, joules."""
        return self.reps * lift_j(body, self.load_lb * POUND.value)


class Question(NamedTuple):
    """What is looked ahead at: weeks, virtual clients of each kind, the seed of the dice, the goal."""

    weeks: int = 12
    clients: int = 500
    seed: int = 1
    goal: Goal = Goal()

    @property
    def days(self) -> int:
        """The same in days."""
        return 7 * self.weeks

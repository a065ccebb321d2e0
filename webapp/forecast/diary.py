"""A client's reports of a day, and the day's cell in the cube.

In this room a missing rating is -1.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from webapp.dosing.course import BEFORE_DAYS
from webapp.dosing.figures import ENOUGH_DONE
from webapp.dosing.responses import DONE_AXIS, ENOUGH, KNOWN_AXIS, LETTERS, NONE, PART, RESPONSES, cube
from webapp.dosing.settings import Tuning
from webapp.forecast.arms import Ratings
from webapp.forecast.kernels import Floats
from webapp.forecast.populations import Population
from webapp.forecast.responders import Flags
from webapp.forecast.steps import Whole

UNKNOWN, OVER_ALL = -1, 11


class Day(NamedTuple):
    """One day of every client: the ratings, reported or not, and the cell of the cube from the reported ratings."""

    during: Ratings
    morning: Ratings
    cell: Whole


def done_class(share: Floats) -> Whole:
    """Return the index into `DONE_AXIS` of each share of the day's work that was done."""
    was_enough = share >= ENOUGH_DONE.value
    classed: Whole = np.where(was_enough, DONE_AXIS.index(ENOUGH), DONE_AXIS.index(PART))
    return np.where(share > 0, classed, DONE_AXIS.index(NONE))


def shifted(ratings: Ratings, population: Population, is_rated: Flags | bool) -> Ratings:
    """Return ratings as a population reports them; unknown where a day is not rated."""
    moved: Ratings = np.clip(ratings + population.report_shift, 0, 10)
    return np.where(is_rated & (ratings != UNKNOWN), moved, UNKNOWN)


class RecentMornings:
    """Keeps the last three mornings of every client."""

    def __init__(self, clients: int) -> None:
        self._mornings: Ratings = np.full((BEFORE_DAYS, clients), UNKNOWN)

    def know(self, mornings: Sequence[int]) -> None:
        """Take over the last mornings of days that all clients share; -1 for one that was not told."""
        for morning in mornings[-BEFORE_DAYS:]:
            self._mornings = np.concatenate([self._mornings[1:], np.full_like(self._mornings[:1], morning)])

    @property
    def before(self) -> Ratings:
        """The lowest known rating of the last three mornings, or unknown."""
        lowest: Ratings = np.where(self._mornings == UNKNOWN, OVER_ALL, self._mornings).min(axis=0)
        return np.where(lowest == OVER_ALL, UNKNOWN, lowest)

    def write(self, done: Whole, during: Ratings, morning: Ratings) -> Whole:
        """Add a day, and return its cell in the cube (see `responses.cube_index`)."""
        cell = done
        for ratings in (during, morning, self.before):
            cell = cell * len(KNOWN_AXIS) + ratings + 1
        self._mornings = np.concatenate([self._mornings[1:], morning[None]])
        return cell


@lru_cache(maxsize=64)
def classes(usual: int, tuning: Tuning) -> Whole:
    """Return the cube as indices into `RESPONSES`, by cell."""
    index = {LETTERS[response]: number for number, response in enumerate(RESPONSES)}
    return np.array([index[letter] for letter in cube(usual, tuning)])

"""What asks the day's work of a whole cohort at once: our rules, as look-ups in the almanac.

Fixed plans ask in the same two words (see `fixed_plans`).
"""

from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from webapp.dosing.almanac import Almanac, walk
from webapp.dosing.dose import Dose
from webapp.dosing.plan import Plan, released, start_state
from webapp.dosing.responses import DURING_AXIS, KNOWN_AXIS, LETTERS, RESPONSES
from webapp.dosing.state import MODES
from webapp.forecast import figures
from webapp.forecast.arms import Ratings
from webapp.forecast.kernels import Floats
from webapp.forecast.question import SORE_DIRECTION

Places = NDArray[np.int64]
HELD = MODES.index("held")


class Prescriber(Protocol):
    """Asks a day of every client, then hears how it went."""

    def ask(self) -> Floats:
        """Give the joules that today asks in the sore direction, 0 where it asks none."""

    def close(self, response: Places, during: Ratings, morning: Ratings) -> None:
        """Hear how the day went: indices into `RESPONSES`, and the ratings as felt (during -1 without a session)."""


def sore_work_j(dose: Dose) -> float:
    """Give a day's work in the sore direction, joules."""
    return dose.sessions * sum(one.work_j for one in dose.sets if one.direction == SORE_DIRECTION)


class Tables:
    """One plan's almanac as arrays over its states, made once and shared by every run."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        down = int(figures.RELEASE_RUNGS_DOWN.value)
        rungs = range(1, plan.ladder.top + 1)
        self.almanac: Almanac = walk(plan, tuple(released(plan, rung) for rung in rungs))
        states, dose_of = self.almanac.states, np.array(self.almanac.dose_of)
        self.next: Places = np.array(self.almanac.next)
        self.rung: Places = np.array([state.rung for state in states])
        self.mode: Places = np.array([MODES.index(state.mode) for state in states])
        self.work: Floats = np.array([dose.work_j for dose in self.almanac.doses])[dose_of]
        self.sore_work: Floats = np.array([sore_work_j(dose) for dose in self.almanac.doses])[dose_of]
        self.start = self.almanac.index(start_state(plan))
        self.release: Places = np.array([self.almanac.index(released(plan, rung - down)) for rung in (0, *rungs)])

    @cached_property
    def cube(self) -> Places:
        """The responses' cube as indices into `RESPONSES`, of shape (during, morning, before)."""
        index = {LETTERS[response]: place for place, response in enumerate(RESPONSES)}
        shape = (len(DURING_AXIS), len(KNOWN_AXIS), len(KNOWN_AXIS))
        return np.array([index[letter] for letter in self.almanac.cube]).reshape(shape)


class OurRules:
    """Follows the almanac by look-up, and releases a hold after some days as a practitioner might."""

    def __init__(self, tables: Tables, clients: int) -> None:
        self.tables = tables
        self.state: Places = np.full(clients, tables.start)
        self._held_days: Places = np.zeros(clients, dtype=np.int64)

    def ask(self) -> Floats:
        """Give the dose of today's state."""
        return self.tables.sore_work[self.state]

    def close(self, response: Places, during: Ratings, morning: Ratings) -> None:  # noqa: ARG002 - the response says it
        """Look up the next state."""
        self.state = self.tables.next[self.state, response]
        held = self.tables.mode[self.state] == HELD
        self._held_days = np.where(held, self._held_days + 1, 0)
        due = self._held_days > figures.RELEASE_DAYS.value
        self.state = np.where(due, self.tables.release[self.tables.rung[self.state]], self.state)
        self._held_days[due] = 0

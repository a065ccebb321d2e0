"""What asks the day's work of a whole cohort at once: our rules, as look-ups in the almanac.

Fixed plans ask in the same two words (see `fixed_plans`).
"""

from typing import Protocol

import numpy as np

from webapp.dosing.almanac import Almanac, walk
from webapp.dosing.dose import Dose
from webapp.dosing.plan import Plan, carry_over, start_state
from webapp.dosing.release import offer, released
from webapp.dosing.state import MODES, State
from webapp.forecast import figures
from webapp.forecast.diary import Day
from webapp.forecast.kernels import Floats
from webapp.forecast.offers import Review, SettingsInForce
from webapp.forecast.question import SORE_DIRECTION
from webapp.forecast.responders import Flags
from webapp.forecast.steps import Positions, Steps, Whole

HELD, TRAINING = MODES.index("held"), MODES.index("training")


class Prescriber(Protocol):
    """Asks a day of every client, then hears how it went."""

    def ask(self) -> Floats:
        """Return the joules that today asks in the sore direction, 0 where it asks none."""

    def close(self, day: Day) -> Whole:
        """Hear how the day went; return each client's response as an index into `RESPONSES`, -1 without rules."""


def sore_work_j(dose: Dose) -> float:
    """Return a day's work in the sore direction, joules."""
    return dose.sessions * sum(one.work_j for one in dose.sets if one.direction == SORE_DIRECTION)


def _walk_with_changes(plan: Plan) -> Almanac:
    """Walk the almanac, with every state in which a changed usual pain or ceiling may leave an arm."""
    almanac = walk(plan)
    entries: set[State] = set()
    while fresh := {carry_over(plan, plan, state) for state in almanac.states} - almanac.rows.keys():
        entries |= fresh
        almanac = walk(plan, tuple(entries))
    return almanac


class Tables:
    """One plan's almanac as arrays over its rows, made once and shared by every run.

    Attributes:
        is_below_goal: By row, whether a rung is left to climb, or a step of range to give back.
        start: The row on which the first of the client's arms begins; a forecast follows that one.
        release: By row, the one to which the practitioner's release leads: all that `plan.offer` gives.
        carried: By row, the one to which a changed usual pain or ceiling leads. The ladder stays.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.almanac = _walk_with_changes(plan)
        self.steps = Steps(self.almanac)
        states, dose_of = self.almanac.states, np.array(self.almanac.dose_of)
        self.rung: Whole = np.array([state.rung for state in states])
        self.mode: Whole = np.array([MODES.index(state.mode) for state in states])
        self.work: Floats = np.array([dose.work_j for dose in self.almanac.doses])[dose_of]
        self.sore_work: Floats = np.array([sore_work_j(dose) for dose in self.almanac.doses])[dose_of]
        self.is_below_goal = np.array([state.rung < plan.ladder.top or state.ease > 0 for state in states])
        self.ease: Whole = np.array([state.ease for state in states])
        self.start = self.almanac.position(start_state(plan, plan.client.arms[0])).row
        rows = self.almanac.rows
        self.carried: Whole = np.array([rows[carry_over(plan, plan, state)] for state in states])
        freed = (released(plan, state, offer(plan, state)) if state.mode == "held" else state for state in states)
        self.release: Whole = np.array([rows[state] for state in freed])

    def has_climbed(self, before: Whole, after: Whole) -> Flags:
        """Say of pairs of rows whether the second is a climb from the first, as the review sees it."""
        rises = self.work[after] > self.work[before]
        is_training = (self.mode[before] == TRAINING) & (self.mode[after] == TRAINING)
        is_same = (self.rung[after] == self.rung[before]) & (self.ease[after] == self.ease[before])
        climbed: Flags = (self.rung[after] > self.rung[before]) | (is_same & is_training & rises)
        return climbed


class OurRules:
    """Follows the almanac by look-up.

    The practitioner releases a hold after some days. One who `acts` takes up the review's offers too.
    """

    def __init__(self, tables: Tables, clients: int, *, acts: bool = False) -> None:
        self.tables = tables
        nothing = np.zeros(clients, dtype=np.int64)
        self.at = Positions(np.full(clients, tables.start), nothing, nothing)
        self.settings = SettingsInForce(tables.plan, clients)
        self._review = Review(clients) if acts else None
        self._held_days: Whole = nothing

    def ask(self) -> Floats:
        """Return the dose of today's state."""
        return self.tables.sore_work[self.at.row]

    def close(self, day: Day) -> Whole:
        """Look up the next state, and let the practitioner look at it."""
        response = self.settings.classed(day.cell)
        before = self.at.row
        self.at = self.tables.steps.close(self.at, response)
        has_climbed = self.tables.has_climbed(before, self.at.row)
        self._release()
        if self._review:
            self._review.write(day.cell, response, has_climbed)
            self._take_up(self._review)
        return response

    def _release(self) -> None:
        is_held = self.tables.mode[self.at.row] == HELD
        self._held_days = np.where(is_held, self._held_days + 1, 0)
        is_due = self._held_days > figures.RELEASE_DAYS.value
        self.at = self.at._replace(row=np.where(is_due, self.tables.release[self.at.row], self.at.row))
        self._held_days[is_due] = 0

    def _take_up(self, review: Review) -> None:
        tables, row = self.tables, self.at.row
        is_changed = review.take_up(self.settings, tables.is_below_goal[row], tables.mode[row] == TRAINING)
        self.at = self.at._replace(row=np.where(is_changed, tables.carried[row], row))

"""Prescribers: they set the day's work of a whole cohort at once. Here: our rules, as look-ups in the almanac.

Plans on paper have the same two methods (see `fixed_plans`).
"""

from typing import Any, Protocol

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
    """Sets the work of each day for every client, and is told how the day went."""

    def ask(self) -> Floats:
        """Return today's work in the sore direction for each client, joules; 0 on a day without work."""

    def close(self, day: Day) -> Whole:
        """Close the day; return each client's response as an index into `RESPONSES`, or -1 without rules."""


def sore_work_j(dose: Dose) -> float:
    """Return a day's work in the sore direction, joules."""
    return dose.sessions * sum(each.work_j for each in dose.sets if each.direction == SORE_DIRECTION)


def _walk_with_changes(plan: Plan) -> Almanac:
    """Walk the almanac from the start, and from every state that follows a change of the usual pain or the ceiling."""
    almanac = walk(plan)
    entries: set[State] = set()
    while fresh := {carry_over(plan, plan, state) for state in almanac.states} - almanac.rows.keys():
        entries |= fresh
        almanac = walk(plan, tuple(entries))
    return almanac


class Look(Protocol):
    """A value for each row: an array, or a table that works a value out when it is first asked for."""

    def __getitem__(self, rows: Whole, /) -> Any:
        """Return the values of some rows, as an array."""


class Closes(Protocol):
    """Closes a day of every client by their positions."""

    def close(self, at: Positions, response: Whole) -> Positions:
        """Return the positions on the next day."""


class Rows(Protocol):
    """What our rules ask of each state, by row. The meaning of each field is in `Tables`."""

    plan: Plan
    start: int

    @property
    def steps(self) -> Closes: ...  # noqa: D102 - see `Tables`
    @property
    def rung(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def mode(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def ease(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def work(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def sore_work(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def is_below_goal(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def release(self) -> Look: ...  # noqa: D102 - see `Tables`
    @property
    def carried(self) -> Look: ...  # noqa: D102 - see `Tables`


def has_climbed(rows: Rows, before: Whole, after: Whole) -> Flags:
    """Say for each pair of rows whether the second is a climb from the first, by the review's definition."""
    rises = rows.work[after] > rows.work[before]
    is_training = (rows.mode[before] == TRAINING) & (rows.mode[after] == TRAINING)
    is_same = (rows.rung[after] == rows.rung[before]) & (rows.ease[after] == rows.ease[before])
    climbed: Flags = (rows.rung[after] > rows.rung[before]) | (is_same & is_training & rises)
    return climbed


class Tables:
    """One plan's almanac as arrays over its rows; built once and shared by all runs.

    Attributes:
        is_below_goal: For each row, whether a rung is left to climb, or a step of range to give back.
        start: The row on which the client's first arm begins; a forecast follows this arm.
        release: For each row, the row after the practitioner's release, which gives the whole `release.offer`.
        carried: For each row, the row after a change of the usual pain or the ceiling. The ladder stays the same.
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


class OurRules:
    """Follows the almanac by look-up.

    The practitioner releases a hold after some days. With `acts` the practitioner also accepts the review's offers.
    """

    def __init__(self, tables: Rows, clients: int, *, acts: bool = False) -> None:
        self.tables = tables
        nothing = np.zeros(clients, dtype=np.int64)
        self.at = Positions(np.full(clients, tables.start), nothing, nothing)
        self.settings = SettingsInForce(tables.plan, clients)
        self._review = Review(clients) if acts else None
        self._held_days: Whole = nothing

    def ask(self) -> Floats:
        """Return the dose of today's state."""
        work_j: Floats = self.tables.sore_work[self.at.row]
        return work_j

    def close(self, day: Day) -> Whole:
        """Look up the next state; then the practitioner releases holds and may accept offers."""
        response = self.settings.classed(day.cell)
        before = self.at.row
        self.at = self.tables.steps.close(self.at, response)
        climbed = has_climbed(self.tables, before, self.at.row)
        self._release()
        if self._review:
            self._review.write(day.cell, response, climbed)
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

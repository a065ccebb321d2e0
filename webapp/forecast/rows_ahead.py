"""The rows of a few weeks ahead: each is made when some virtual client first comes to it.

A whole almanac takes seconds; a forecast of one client comes to a small part of its states.
"""

from collections.abc import Callable
from functools import cached_property

import numpy as np

from webapp.dosing.closing import close_day
from webapp.dosing.dose import dose
from webapp.dosing.hand import work_of
from webapp.dosing.plan import Plan, carry_over
from webapp.dosing.release import offer, released
from webapp.dosing.responses import RESPONSES
from webapp.dosing.state import MODES, State
from webapp.forecast.prescribers import sore_work_j
from webapp.forecast.steps import Positions, Whole


class Column:
    """A value for each row, worked out when it is first asked for."""

    def __init__(self, of_row: Callable[[int], float]) -> None:
        self._of_row = of_row
        self._known: dict[int, float] = {}

    def __getitem__(self, rows: Whole) -> Whole:
        """Return the values of some rows, as an array of the same shape."""
        distinct, where = np.unique(rows, return_inverse=True)
        values: Whole = np.array([self._value(int(row)) for row in distinct])[where]
        return values.reshape(rows.shape)

    def _value(self, row: int) -> float:
        if row not in self._known:
            self._known[row] = self._of_row(row)
        return self._known[row]


class RowsAhead:
    """The states that follow from one state, numbered in the order in which they are met.

    The fields are those of `prescribers.Tables`. A row is a state with its days of gap, so a position is only a row.

    Attributes:
        plan: The plan that is followed.
        start: The row of the first state.
    """

    def __init__(self, plan: Plan, state: State) -> None:
        self.plan = plan
        self._states: list[State] = []
        self._row_of: dict[State, int] = {}
        self.start = self._row(state)
        self.steps = self
        self._next = Column(self._closed)

    def state(self, row: int) -> State:
        """Return the state of a row."""
        return self._states[row]

    def close(self, at: Positions, response: Whole) -> Positions:
        """Close a day of every client; the response is an index into `RESPONSES`."""
        return at._replace(row=self._next[at.row * len(RESPONSES) + response])

    def _row(self, state: State) -> int:
        row = self._row_of.setdefault(state, len(self._states))
        if row == len(self._states):
            self._states.append(state)
        return row

    def _closed(self, code: int) -> int:
        row, response = divmod(code, len(RESPONSES))
        return self._row(close_day(self.plan, self._states[row], RESPONSES[response]).state)

    def _column(self, of_state: Callable[[State], float]) -> Column:
        return Column(lambda row: of_state(self._states[row]))

    @cached_property
    def rung(self) -> Column:
        """The rung of each row."""
        return self._column(lambda state: state.rung)

    @cached_property
    def ease(self) -> Column:
        """The step of ease of each row."""
        return self._column(lambda state: state.ease)

    @cached_property
    def mode(self) -> Column:
        """The index into `MODES` of each row."""
        return self._column(lambda state: MODES.index(state.mode))

    @cached_property
    def work(self) -> Column:
        """The work of a day, joules; 0 on a day without a dose."""
        return self._column(lambda state: dose(self.plan, state).work_j)

    @cached_property
    def trained_work(self) -> Column:
        """The work of a day in joules, as if the arm neither rested nor were held."""
        return self._column(lambda state: work_of(self.plan, state))

    @cached_property
    def sore_work(self) -> Column:
        """The work of a day in the sore direction, joules."""
        return self._column(lambda state: sore_work_j(dose(self.plan, state)))

    @cached_property
    def is_below_goal(self) -> Column:
        """Whether a rung is left to climb, or a step of range to give back."""
        return self._column(lambda state: state.rung < self.plan.ladder.top or state.ease > 0)

    @cached_property
    def release(self) -> Column:
        """The row after the practitioner's release, which gives the whole offer."""
        return self._column(self._released)

    @cached_property
    def carried(self) -> Column:
        """The row after a change of the usual pain or the ceiling."""
        return self._column(lambda state: self._row(carry_over(self.plan, self.plan, state)))

    def _released(self, state: State) -> int:
        return self._row(released(self.plan, state, offer(self.plan, state)) if state.mode == "held" else state)

"""Every dose that any run of responses can call for, as one closed table.

The phone follows the table by look-up. The server folds the same log through the same rules. A row stands for a state
without its days of gap. The columns of `GapTable` say what a gap does to a row.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import NamedTuple

from webapp.dosing.closing import Closing, alike, close_but_for_gap, close_gap, gap_after, without_gap
from webapp.dosing.dose import Dose, ask_of, dose_for
from webapp.dosing.gap_table import COLUMN_OF_DAY, GAP_COLUMNS, GAP_REASONS, GapTable, gap_reason, half_way
from webapp.dosing.partition import classes_of
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.release import released_states
from webapp.dosing.responses import IDLE, RESPONSES, cube
from webapp.dosing.rules import TABLE, Table
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MODES, State

# In this order neighbouring rows lead equally far ahead, so the table compresses well on its way to a phone.
_ORDER = attrgetter(
    *("tender_days", "is_unsettled", "first_week_stage", "first_week_day", "settled_streak", "rest_days", "mode"),
    *("pace", "ease", "rung"),
)

# In this order similar doses are neighbours, so the list of doses compresses well too.
_ORDER_OF_ASKS = attrgetter("rung", "stage", "ease", "hold_seconds", "mode")

# A person sees these parts of a state, so states that differ in one of them are never merged.
_SHOWN = attrgetter("rung", "ease", "settled_streak", "rest_days", "mode")


class Position(NamedTuple):
    """Where an arm stands: a row of the table, the days of gap, and the rung on which they began (0 for none)."""

    row: int
    gap_days: int = 0
    gap_rung: int = 0


@dataclass(frozen=True)
class Almanac:
    """The closed table of one plan.

    Attributes:
        states: One state of each row, without its days of gap, sorted by `_ORDER`.
        next: For each row, the next day's row by response, in `RESPONSES` order. A gap is applied after it.
        reasons: For each row, the ids of the rules that decided, by response, in `RESPONSES` order.
        doses: The distinct doses.
        dose_of: For each row, the index of its dose.
        cube: The responses' cube (see `responses.cube`).
        rows: The row of every reachable state without its gap.
        gap: What a gap does to each row.
    """

    states: tuple[State, ...]
    next: tuple[tuple[int, ...], ...]
    reasons: tuple[tuple[tuple[str, ...], ...], ...]
    doses: tuple[Dose, ...]
    dose_of: tuple[int, ...]
    cube: str
    rows: Mapping[State, int]
    gap: GapTable

    def position(self, state: State) -> Position:
        """Return the position of a state in the table; a KeyError where the state is not reachable."""
        return Position(self.rows[without_gap(state)], state.gap_days, state.gap_rung)

    def state_at(self, position: Position) -> State:
        """Return a state that has this position."""
        row, gap_days, gap_rung = position
        return self.states[row]._replace(gap_days=gap_days, gap_rung=gap_rung)

    def dose_at(self, row: int) -> Dose:
        """Return what a row asks."""
        return self.doses[self.dose_of[row]]

    def close(self, position: Position, response: str) -> tuple[Position, tuple[str, ...]]:
        """Close a day by look-up alone, as the phone does. The result is that of `closing.close_day`.

        Returns:
            The position on the next day, and the ids of the rules that decided.
        """
        number = RESPONSES.index(response)
        row, reasons = self.next[position.row][number], self.reasons[position.row][number]
        if response not in IDLE or self.states[row].mode == "held":
            return Position(row), reasons
        gap_days, began = gap_after(self.state_at(position))
        after, why = self._gap(row, gap_days, began)
        reasons = reasons + why if why != (GAP_REASONS["resume"],) else reasons or self._resumed(row)
        return Position(after, gap_days, 0 if gap_days >= HALF_WAY_GAP_DAYS else began), reasons

    def _resumed(self, row: int) -> tuple[str, ...]:
        return (GAP_REASONS["resume"],) if self.states[row].mode == "training" else ()

    def _gap(self, row: int, gap_days: int, began: int) -> tuple[int, tuple[str, ...]]:
        name, rung = COLUMN_OF_DAY[gap_days], self.states[row].rung
        if not name:
            return row, (GAP_REASONS["resume"],)
        if name != "half":
            after = self.gap.columns[name][row]
            return after, gap_reason(name, rung - self.states[after].rung)
        after = self.gap.columns["slow"][row]
        for _ in range(rung - self.gap.half_way[began - 1]):
            after = self.gap.columns["down"][after]
        return after, gap_reason(name, rung - self.states[after].rung)


class _Walk:
    """Visits every reachable state without its gap once, and closes a day of every response from it."""

    def __init__(self, plan: Plan, table: Table) -> None:
        self.plan, self.table = plan, table
        self.reached: set[State] = set()
        self.waiting: list[State] = []
        self.closings: dict[State, list[Closing]] = {}
        self.released: dict[State, list[State]] = {}
        self.alike = {mode: _alike(mode, table) for mode in MODES}
        self.gaps: dict[str, dict[State, State]] = {name: {} for name in (*GAP_COLUMNS, "down")}

    def reach(self, state: State) -> State:
        """Queue a state without its gap, if it is new, and return it."""
        bare = without_gap(state)
        if bare not in self.reached:
            self.reached.add(bare)
            self.waiting.append(bare)
            if bare.mode == "held":
                self.released[bare] = [self.reach(after) for after in released_states(self.plan, bare)]
        return bare

    def run(self) -> None:
        """Visit states until no new state is reached."""
        for state in self.waiting:  # `reach` adds to this list while the loop runs
            self.closings[state] = self._close(state)
            for name, gap_days in GAP_COLUMNS.items():
                self.gaps[name][state] = self.reach(self._gone(state, gap_days))
            self.gaps["down"][state] = self.reach(self._down(state))

    def _close(self, state: State) -> list[Closing]:
        """Return the closing of every response; responses that act the same in this mode are closed once."""
        once = [close_but_for_gap(self.plan, state, response, self.table) for response in self.alike[state.mode][0]]
        for closing in once:
            self.reach(closing.state)
        return [once[number] for number in self.alike[state.mode][1]]

    def _gone(self, state: State, gap_days: int) -> State:
        if state.mode == "held":
            return state
        return close_gap(self.plan, Closing(state, ()), gap_days, state.rung, self.table).state

    def _down(self, state: State) -> State:
        # Two weeks away go down by several rungs. The table stores one rung down and applies it several times.
        # No rule goes one rung down from every rung, so the state is built here.
        if state.mode == "held" or state.rung == 1:
            return state
        slow = self.gaps["slow"][state]
        return slow.without_tender_days(slow.ease)._replace(rung=state.rung - 1)


def _alike(mode: str, table: Table) -> tuple[list[str], list[int]]:
    """Group the responses that close a day of a mode the same.

    Returns:
        The first response of each group, and for every response, in `RESPONSES` order, the number of its group.
    """
    kinds: dict[object, int] = {}
    first: dict[object, str] = {}
    for response in RESPONSES:
        key = alike(response, mode, table)
        kinds.setdefault(key, len(kinds))
        first.setdefault(key, response)
    return list(first.values()), [kinds[alike(response, mode, table)] for response in RESPONSES]


def walk(plan: Plan, entries: tuple[State, ...] = (), table: Table = TABLE) -> Almanac:
    """Walk every state that is reachable from the start and from `entries`, and give each a row.

    Args:
        plan: The routine fitted to the client.
        entries: More states to begin from, such as those carried over from an older routine.
        table: The rules by step, mode and response.

    Returns:
        A closed table: every transition leads to a row of the table.
    """
    steps = _Walk(plan, table)
    for state in (*(start_state(plan, arm) for arm in plan.client.arms), *entries):
        steps.reach(state)
    steps.run()
    states = tuple(sorted(steps.reached, key=_ORDER))
    rows = {state: row for row, state in enumerate(states)}
    closings = [steps.closings[state] for state in states]
    asks_of_rows = [ask_of(plan, state) for state in states]
    asks = {ask: number for number, ask in enumerate(sorted(set(asks_of_rows), key=_ORDER_OF_ASKS))}
    dose_of = tuple(asks[ask] for ask in asks_of_rows)
    columns = {name: tuple(rows[after[state]] for state in states) for name, after in steps.gaps.items()}
    return Almanac(
        states,
        tuple(tuple(rows[closing.state] for closing in row) for row in closings),
        tuple(tuple(closing.reasons for closing in row) for row in closings),
        tuple(dose_for(plan, ask) for ask in asks),
        dose_of,
        cube(plan.client.usual, plan.tuning),
        rows,
        GapTable(columns, half_way(plan)),
    )


def _kept_apart(state: State) -> tuple[object, ...]:
    # No response ends a hold, so responses cannot tell two held states apart. A release can: it keeps the stage.
    return *_SHOWN(state), state.first_week_stage if state.mode == "held" else 0


def _classes(table: Almanac) -> list[int]:
    """Return the class of each row: rows of one class behave the same under every run of responses."""
    labels = zip(table.dose_of, table.reasons, map(_kept_apart, table.states), strict=True)
    columns: list[Sequence[int]] = [*zip(*table.next, strict=True), *table.gap.columns.values()]
    # Two rows may differ only after weeks of settled days, so that column is followed first.
    return classes_of(labels, columns, far=[columns[RESPONSES.index("settled")]])


def merged(table: Almanac) -> Almanac:
    """Merge the rows that ask the same dose for the same reasons under every run of responses."""
    classes = _classes(table)
    first = {number: row for row, number in reversed(list(enumerate(classes)))}
    kept = [first[number] for number in range(len(first))]

    def column(rows: Sequence[int]) -> tuple[int, ...]:
        return tuple(classes[rows[row]] for row in kept)

    return Almanac(
        tuple(table.states[row] for row in kept),
        tuple(tuple(classes[after] for after in table.next[row]) for row in kept),
        tuple(table.reasons[row] for row in kept),
        table.doses,
        tuple(table.dose_of[row] for row in kept),
        table.cube,
        {state: classes[row] for state, row in table.rows.items()},
        GapTable({name: column(rows) for name, rows in table.gap.columns.items()}, table.gap.half_way),
    )


def build(plan: Plan, entries: Iterable[State] = (), table: Table = TABLE) -> Almanac:
    """Walk every reachable state and merge equal rows; the arguments are those of `walk`."""
    return merged(walk(plan, tuple(entries), table))

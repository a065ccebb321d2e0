"""Every reachable state of one plan, days of gap included, as arrays: what the walks over all states look at."""

from functools import cached_property, lru_cache

import numpy as np

from webapp.dosing.almanac import Almanac, Position, walk
from webapp.dosing.dose import dose
from webapp.dosing.gap_table import COLUMN_OF_DAY
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.release import released_states
from webapp.dosing.responses import CLASSES, IDLE, KNOWN_AXIS, LETTERS, RESPONSES, cube
from webapp.dosing.rules import TABLE
from webapp.dosing.settings import Tuning
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS, State

ALMOST = 1 + 1e-9
NUMBER = {response: number for number, response in enumerate(RESPONSES)}


class Whole:
    """The reachable states of a plan, numbered; `next[response]` holds the number of the next day's state for each."""

    def __init__(self, plan: Plan, table=TABLE, classes=CLASSES) -> None:
        self.plan, self.classes = plan, classes
        self.almanac: Almanac = walk(plan, (), table)
        self.rungs = plan.ladder.top + 1
        self.columns = np.array(self.almanac.next, dtype=np.int64)
        self.gaps = {name: np.array(rows, dtype=np.int64) for name, rows in self.almanac.gap.columns.items()}
        self.half_way = np.array((0, *self.almanac.gap.half_way), dtype=np.int64)
        self.row_rung = np.array([state.rung for state in self.almanac.states])
        self.row_held = np.array([state.mode == "held" for state in self.almanac.states])
        self.keys = self._reach()
        self.next = np.stack([np.searchsorted(self.keys, self._step(self.keys, name)) for name in RESPONSES])

    def _key(self, row, gap, began):
        return (row * (MOST_GAP_DAYS + 1) + gap) * self.rungs + began

    def split(self, keys):
        rest, began = np.divmod(keys, self.rungs)
        row, gap = np.divmod(rest, MOST_GAP_DAYS + 1)
        return row, gap, began

    def _step(self, keys, response):
        row, gap, began = self.split(keys)
        after = self.columns[row, NUMBER[response]]
        if response not in IDLE:
            return self._key(after, 0, 0)
        days = np.minimum(gap + 1, MOST_GAP_DAYS)
        first = np.where(began > 0, began, self.row_rung[row])
        moved = self._gap(after, days, first)
        key = self._key(moved, days, np.where(days >= HALF_WAY_GAP_DAYS, 0, first))
        return np.where(self.row_held[after], self._key(after, 0, 0), key)

    def _gap(self, row, days, began):
        moved = row.copy()
        for day, name in enumerate(COLUMN_OF_DAY):
            here = days == day
            if name and name != "half":
                moved[here] = self.gaps[name][row[here]]
            elif name == "half":
                slow = self.gaps["slow"][row[here]]
                down = np.maximum(self.row_rung[row[here]] - self.half_way[began[here]], 0)
                for steps in range(int(down.max(initial=0))):
                    slow = np.where(down > steps, self.gaps["down"][slow], slow)
                moved[here] = slow
        return moved

    def _reach(self):
        held = [state for state in self.almanac.states if state.mode == "held"]
        starts = (start_state(self.plan, arm) for arm in self.plan.client.arms)
        entries = {*starts, *(after for state in held for after in released_states(self.plan, state))}
        fresh = np.unique([self._key(*self.almanac.position(state)) for state in entries])
        reached = fresh
        while fresh.size:
            after = np.unique(np.concatenate([self._step(fresh, response) for response in RESPONSES]))
            fresh = np.setdiff1d(after, reached, assume_unique=True)
            reached = np.union1d(reached, fresh)
        return reached

    @property
    def count(self) -> int:
        return self.keys.size

    @cached_property
    def rows(self):
        return self.split(self.keys)[0]

    def state(self, number: int) -> State:
        return self.almanac.state_at(Position(*(int(part) for part in self.split(self.keys[number]))))

    def of_row(self, value):
        """A number for each state, worked out once for each row."""
        return np.array([value(state) for state in self.almanac.states])[self.rows]

    @cached_property
    def work(self):
        """What each state's day asks, joules."""
        return np.array([self.almanac.dose_at(row).work_j for row in range(len(self.almanac.states))])[self.rows]

    @cached_property
    def work_if_training(self):
        """What each state would ask, were its rest or hold over as it stands."""
        return self.of_row(lambda state: dose(self.plan, state._replace(rest_days=0, mode="training")).work_j)

    @cached_property
    def rung(self):
        return self.of_row(lambda state: state.rung)

    @cached_property
    def ease(self):
        return self.of_row(lambda state: state.ease)

    @cached_property
    def mode(self):
        return self.of_row(lambda state: ("training", "resting", "held").index(state.mode))

    @cached_property
    def worse_pairs(self) -> list[tuple[str, str]]:
        """(better, worse) responses that differ by ratings alone, as the cube has them: the same was done."""
        return worse_pairs(self.plan, self.classes)


def worse_pairs(plan: Plan, classes=CLASSES) -> list[tuple[str, str]]:
    return _worse_pairs(plan.client.usual, plan.tuning.settled_during, classes)


@lru_cache(64)
def _worse_pairs(usual: int, settled_during: int, classes) -> list[tuple[str, str]]:
    size = len(KNOWN_AXIS)
    letters = np.array(list(cube(usual, Tuning(settled_during=settled_during), classes))).reshape(3, size, size, size)
    known = letters[:, 1:, 1:, 1:]
    steps = (
        (known[:, :-1], known[:, 1:]),  # during, a point more
        (known[:, :, :-1], known[:, :, 1:]),  # the morning, a point more
        (known[:, :, :, 1:], known[:, :, :, :-1]),  # the lowest morning before, a point less
        # A number that is not told is left alone: only the others get worse.
        (letters[:, :1, 1:-1, 1:], letters[:, :1, 2:, 1:]),
        (letters[:, 1:-1, :1, 1:], letters[:, 2:, :1, 1:]),
    )
    pairs = {pair for better, worse in steps for pair in zip(better.ravel(), worse.ravel(), strict=True)}
    while more := {(a, d) for a, b in pairs for c, d in pairs if b == c} - pairs:
        pairs |= more
    name = {letter: response for response, letter in LETTERS.items()}
    return sorted((name[a], name[b]) for a, b in pairs if a != b)

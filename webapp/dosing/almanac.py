"""Every dose that any run of responses can call for, as one closed table.

The phone follows the table by look-up; the server folds the same log through the same rules.
"""

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from webapp.dosing.dose import Ask, Dose, ask_of, dose_for
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.rules import TABLE, Closing, Table, close_day
from webapp.dosing.state import State

# Neighbours in this order move by the same distance, which keeps the table small on its way to a phone.
_ORDER = attrgetter("tender_days", "first_week_day", "gap_days", "settled_streak", "mode", "pace", "ease", "rung")

# What a person is shown of a state, which merging therefore keeps apart.
_SEEN = attrgetter("rung", "ease", "settled_streak", "mode")


@dataclass(frozen=True)
class Almanac:
    """The closed table of one plan.

    Attributes:
        states: One state of each row, in an order of their own (see `_ORDER`).
        next: For each row, that of the next day by response, in `RESPONSES` order.
        reasons: For each row, the ids of the rules that decided, likewise.
        doses: The distinct doses.
        dose_of: For each row, the index of its dose.
        cube: The responses' cube (see `responses.cube`).
        places: The row of every state that can be met.
    """

    states: tuple[State, ...]
    next: tuple[tuple[int, ...], ...]
    reasons: tuple[tuple[tuple[str, ...], ...], ...]
    doses: tuple[Dose, ...]
    dose_of: tuple[int, ...]
    cube: str
    places: Mapping[State, int]

    def index(self, state: State) -> int:
        """Give the row of a state; a KeyError for one that cannot be met."""
        return self.places[state]


class _Walk:
    """Meets states one after the other, each once, and closes a day of every response from each."""

    def __init__(self, plan: Plan, table: Table) -> None:
        self.plan, self.table = plan, table
        self.places: dict[State, int] = {}
        self.waiting: deque[State] = deque()
        self.closings: list[list[Closing]] = []
        self.rows: list[list[int]] = []

    def place(self, state: State) -> int:
        """Give a state its place in the order of meeting."""
        known = self.places.get(state)
        if known is None:
            known = self.places[state] = len(self.places)
            self.waiting.append(state)
        return known

    def run(self) -> None:
        """Go on until nothing new is met."""
        while self.waiting:
            state = self.waiting.popleft()
            closings = [close_day(self.plan, state, response, self.table) for response in RESPONSES]
            self.closings.append(closings)
            self.rows.append([self.place(closing.state) for closing in closings])


def walk(plan: Plan, entries: tuple[State, ...] = (), table: Table = TABLE) -> Almanac:
    """Walk every state that can be met from the start and from `entries`, a row for each.

    Args:
        plan: The routine fitted to the client.
        entries: More states to begin from, such as those carried over from an older routine.
        table: The rules by response.

    Returns:
        A closed table: every `next` is a row of it.
    """
    steps = _Walk(plan, table)
    for state in (start_state(plan), *entries):
        steps.place(state)
    steps.run()
    met = tuple(steps.places)
    order = sorted(range(len(met)), key=lambda old: _ORDER(met[old]))
    place_of = {old: new for new, old in enumerate(order)}
    states = tuple(met[old] for old in order)
    rows = tuple(tuple(place_of[place] for place in steps.rows[old]) for old in order)
    reasons = tuple(tuple(closing.reasons for closing in steps.closings[old]) for old in order)
    asks: dict[Ask, int] = {}
    dose_of = tuple(asks.setdefault(ask_of(plan, state), len(asks)) for state in states)
    doses = tuple(dose_for(plan, ask) for ask in asks)
    places = {state: place for place, state in enumerate(states)}
    return Almanac(states, rows, reasons, doses, dose_of, cube(plan.client.usual, plan.tuning), places)


def _classes(table: Almanac) -> list[int]:
    """Sort rows into classes, numbered in the order of the rows, that no run of responses can tell apart."""
    columns = list(zip(*table.next, strict=True))
    numbers: dict[Any, int] = {}
    seen = map(_SEEN, table.states)
    classes = [numbers.setdefault(key, len(numbers)) for key in zip(table.dose_of, table.reasons, seen, strict=True)]
    known = 0
    while known < len(numbers):
        known, numbers = len(numbers), {}
        leads_to = (map(classes.__getitem__, column) for column in columns)
        classes = [numbers.setdefault(key, len(numbers)) for key in zip(classes, *leads_to, strict=True)]
    return classes


def merged(table: Almanac) -> Almanac:
    """Merge the rows that ask the same, for the same reasons, whatever responses follow."""
    classes = _classes(table)
    first = {one: place for place, one in reversed(list(enumerate(classes)))}
    kept = [first[one] for one in range(len(first))]
    return Almanac(
        tuple(table.states[place] for place in kept),
        tuple(tuple(classes[after] for after in table.next[place]) for place in kept),
        tuple(table.reasons[place] for place in kept),
        table.doses,
        tuple(table.dose_of[place] for place in kept),
        table.cube,
        {state: classes[place] for state, place in table.places.items()},
    )


def build(plan: Plan, entries: tuple[State, ...] = (), table: Table = TABLE) -> Almanac:
    """Walk every state and merge the rows that nothing can tell apart; the arguments are `walk`'s."""
    return merged(walk(plan, entries, table))

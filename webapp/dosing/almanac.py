"""Every dose that any run of responses can call for, as one closed table.

The phone follows the table by look-up; the server folds the same log through the same rules.
"""

from collections import deque
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter

from webapp.dosing.dose import Ask, Dose, ask_of, dose_for
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.rules import TABLE, Closing, Table, close_day
from webapp.dosing.state import State

# Neighbours in this order move by the same distance, which keeps the table small on its way to a phone.
_ORDER = attrgetter("tender_days", "first_week_day", "gap_days", "settled_streak", "mode", "pace", "ease", "rung")


@dataclass(frozen=True)
class Almanac:
    """The closed table of one plan.

    Attributes:
        states: Every state that can be met, in an order of their own (see `_ORDER`).
        next: For each state, the index of the next one by response, in `RESPONSES` order.
        reasons: For each state, the ids of the rules that decided, likewise.
        doses: The distinct doses.
        dose_of: For each state, the index of its dose.
        cube: The responses' cube (see `responses.cube`).
    """

    states: tuple[State, ...]
    next: tuple[tuple[int, ...], ...]
    reasons: tuple[tuple[tuple[str, ...], ...], ...]
    doses: tuple[Dose, ...]
    dose_of: tuple[int, ...]
    cube: str

    @cached_property
    def places(self) -> dict[State, int]:
        """The index of each state."""
        return {state: place for place, state in enumerate(self.states)}

    def index(self, state: State) -> int:
        """Give the index of a state; a KeyError for one that cannot be met."""
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


def build(plan: Plan, entries: tuple[State, ...] = (), table: Table = TABLE) -> Almanac:
    """Walk every state that can be met from the start and from `entries`.

    Args:
        plan: The routine fitted to the client.
        entries: More states to begin from, such as those carried over from an older routine.
        table: The rules by response.

    Returns:
        A closed table: every `next` is an index into `states`.
    """
    walk = _Walk(plan, table)
    for state in (start_state(plan), *entries):
        walk.place(state)
    walk.run()
    met = tuple(walk.places)
    order = sorted(range(len(met)), key=lambda old: _ORDER(met[old]))
    place_of = {old: new for new, old in enumerate(order)}
    states = tuple(met[old] for old in order)
    rows = tuple(tuple(place_of[place] for place in walk.rows[old]) for old in order)
    reasons = tuple(tuple(closing.reasons for closing in walk.closings[old]) for old in order)
    asks: dict[Ask, int] = {}
    dose_of = tuple(asks.setdefault(ask_of(plan, state), len(asks)) for state in states)
    doses = tuple(dose_for(plan, ask) for ask in asks)
    return Almanac(states, rows, reasons, doses, dose_of, cube(plan.client.usual, plan.tuning))

"""Every dose that any run of responses can call for, as one closed table.

The phone follows the table by look-up; the server folds the same log through the same rules.
"""

from collections import deque
from dataclasses import dataclass
from functools import cached_property

from webapp.dosing.dose import Ask, Dose, ask_of, dose_for
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.rules import close_day
from webapp.dosing.state import State


@dataclass(frozen=True)
class Almanac:
    """The closed table of one plan.

    Attributes:
        states: Every state that can be met; the first is the start.
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


def build(plan: Plan, entries: tuple[State, ...] = ()) -> Almanac:
    """Walk every state that can be met from the start and from `entries`.

    Args:
        plan: The routine fitted to the client.
        entries: More states to begin from, such as those carried over from an older routine.

    Returns:
        A closed table: every `next` is an index into `states`.
    """
    places: dict[State, int] = {}
    waiting: deque[State] = deque()

    def place(state: State) -> int:
        if state not in places:
            places[state] = len(places)
            waiting.append(state)
        return places[state]

    for state in (start_state(plan), *entries):
        place(state)
    rows, reasons = [], []
    while waiting:
        state = waiting.popleft()
        closings = [close_day(plan, state, response) for response in RESPONSES]
        rows.append(tuple(place(closing.state) for closing in closings))
        reasons.append(tuple(closing.reasons for closing in closings))
    states = tuple(places)
    asks: dict[Ask, int] = {}
    dose_of = tuple(asks.setdefault(ask_of(plan, state), len(asks)) for state in states)
    doses = tuple(dose_for(plan, ask) for ask in asks)
    letters = cube(plan.client.usual, plan.tuning)
    return Almanac(states, tuple(rows), tuple(reasons), doses, dose_of, letters)

"""Every dose that any run of responses can call for, as one closed table.

The phone follows the table by look-up; the server folds the same log through the same rules.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from operator import attrgetter

from webapp.dosing.dose import Ask, Dose, ask_of, dose_for
from webapp.dosing.partition import classes_of
from webapp.dosing.plan import Plan, start_state
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.rules import TABLE, Closing, Table, close_day, counted
from webapp.dosing.state import State

# Neighbours in this order move by the same distance, which keeps the table small on its way to a phone.
_ORDER = attrgetter("tender_days", "first_week_day", "gap_days", "settled_streak", "mode", "pace", "ease", "rung")

# What a person is shown of a state, which merging therefore keeps apart.
_SEEN = attrgetter("rung", "ease", "settled_streak", "mode")


*_END_A_GAP, _MISSED = RESPONSES


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
    """Meets states one after the other, each once, and closes a day of every response from each.

    Most states differ from another in nothing but a gap, which only one more missed day can tell: the other
    responses are closed once for all states that a day which counts nothing leaves alike (see `rules.counted`).
    """

    def __init__(self, plan: Plan, table: Table) -> None:
        self.plan, self.table = plan, table
        self.met: set[State] = set()
        self.waiting: list[State] = []
        self.alike: dict[State, list[Closing]] = {}
        self.steps: dict[State, tuple[State, Closing]] = {}

    def meet(self, state: State) -> None:
        """Have a state wait for its turn, if it is new."""
        if state not in self.met:
            self.met.add(state)
            self.waiting.append(state)

    def run(self) -> None:
        """Go on until nothing new is met."""
        for state in self.waiting:  # grows as it is gone through
            left = counted(self.plan, state, "unreported")
            if left not in self.alike:
                self.alike[left] = [self.close(state, response) for response in _END_A_GAP]
            self.steps[state] = left, self.close(state, _MISSED)

    def close(self, state: State, response: str) -> Closing:
        """Close a day, and meet the state that it leads to."""
        closing = close_day(self.plan, state, response, self.table)
        self.meet(closing.state)
        return closing

    def rows(self, places: Mapping[State, int]) -> tuple[tuple[int, ...], ...]:
        """Give the places that each state leads to, in their order."""
        shared = {left: [places[after] for after, _ in closings] for left, closings in self.alike.items()}
        steps = map(self.steps.__getitem__, places)
        return tuple((*shared[left], places[missed.state]) for left, missed in steps)

    def reasons(self, states: Iterable[State]) -> tuple[tuple[tuple[str, ...], ...], ...]:
        """Give why, for each of the states."""
        shared = {left: [reasons for _, reasons in closings] for left, closings in self.alike.items()}
        steps = map(self.steps.__getitem__, states)
        return tuple((*shared[left], missed.reasons) for left, missed in steps)


def walk(plan: Plan, entries: tuple[State, ...] = (), table: Table = TABLE) -> Almanac:
    """Walk every state that can be met from the start and from `entries`, a row for each.

    Args:
        plan: The routine fitted to the client.
        entries: More states to begin from, such as those carried over from an older routine.
        table: The rules by mode and response.

    Returns:
        A closed table: every `next` is a row of it.
    """
    steps = _Walk(plan, table)
    for state in (start_state(plan), *entries):
        steps.meet(state)
    steps.run()
    states = tuple(sorted(steps.met, key=_ORDER))
    places = {state: place for place, state in enumerate(states)}
    rows, reasons = steps.rows(places), steps.reasons(states)
    asks: dict[Ask, int] = {}
    dose_of = tuple(asks.setdefault(ask_of(plan, state), len(asks)) for state in states)
    doses = tuple(dose_for(plan, ask) for ask in asks)
    return Almanac(states, rows, reasons, doses, dose_of, cube(plan.client.usual, plan.tuning), places)


def _classes(table: Almanac) -> list[int]:
    """Sort rows into classes, numbered in the order of the rows, that no run of responses can tell apart."""
    labels = zip(table.dose_of, table.reasons, map(_SEEN, table.states), strict=True)
    columns = list(zip(*table.next, strict=True))
    # A gap goes on for weeks, and settled days for many: nothing else takes so long to make a difference.
    return classes_of(labels, columns, far=[columns[RESPONSES.index(response)] for response in ("missed", "settled")])


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

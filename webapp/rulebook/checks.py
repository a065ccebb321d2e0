"""Checks of the statements that are always true: they go through every state of one plan's table, without sampling."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain, product
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.almanac import Almanac, merged, walk
from webapp.dosing.closing import close_day, without_gap
from webapp.dosing.dose import dose, hold_seconds
from webapp.dosing.plan import Plan
from webapp.dosing.release import released_states
from webapp.dosing.responses import DONE_AXIS, ENOUGH, IDLE, KNOWN_AXIS, LETTERS, RESPONSES, classify, cube_index
from webapp.dosing.rules import TABLE, Table
from webapp.dosing.state import HALF_WAY_GAP_DAYS, MOST_GAP_DAYS, State

ALMOST = 1 + 1e-9
GAPS = (2, 6, HALF_WAY_GAP_DAYS - 1, MOST_GAP_DAYS - 1)
"""Days of gap after which one more day without a session makes a rule of the gap change something."""
SETTLED, FLARED = RESPONSES.index("settled"), RESPONSES.index("flared")
RESPONSE_OF = {letter: response for response, letter in LETTERS.items()}


class Tally(NamedTuple):
    """How many cases of a statement were checked, and how many of them break it."""

    checked: int
    against: int


def count(holds: Iterator[bool]) -> Tally:
    """Tally the cases, and the cases in which the statement does not hold."""
    checked = against = 0
    for held in holds:
        checked += 1
        against += not held
    return Tally(checked, against)


@dataclass(frozen=True)
class Walked:
    """Every state of one plan without its days of gap, and the work that each asks."""

    plan: Plan
    rules: Table = field(default_factory=lambda: TABLE)

    @cached_property
    def table(self) -> Almanac:
        """The table with a row for each state."""
        return walk(self.plan, (), self.rules)

    @cached_property
    def phone(self) -> Almanac:
        """The smaller table that a phone holds."""
        return merged(self.table)

    @cached_property
    def asked_j(self) -> list[float]:
        """The work that each row's day asks, joules; 0 at rest and in a hold."""
        return [self.table.dose_at(row).work_j for row in range(len(self.table.states))]

    @cached_property
    def borne(self) -> list[float]:
        """The work that each row would ask if its rest or hold were over, joules."""
        return [self.work_if_training(state) for state in self.table.states]

    @cached_property
    def counts(self) -> dict[str, Tally]:
        """The count for each statement in `CHECKS`, by its number."""
        return {number: count(check(self)) for number, check in CHECKS.items()}

    def work_if_training(self, state: State) -> float:
        """Return the work that a state would ask if its rest or hold were over, joules."""
        return dose(self.plan, state._replace(rest_days=0, mode="training")).work_j

    def steps(self, *but: int) -> Iterator[tuple[int, int]]:
        """Yield (row, next row) for every response whose number is not in `but`."""
        for row, after in enumerate(self.table.next):
            yield from ((row, to) for number, to in enumerate(after) if number not in but)

    def gaps(self) -> Iterator[tuple[int, int]]:
        """Yield (row, row after a gap) for every column of the gap."""
        return chain.from_iterable(enumerate(column) for column in self.table.gap.columns.values())


def never_rises(walked: Walked) -> Iterator[bool]:
    """Statement 1: no class but settled raises the work, and no gap does."""
    for row, after in chain(walked.steps(SETTLED), walked.gaps()):
        yield walked.borne[after] <= walked.borne[row] * ALMOST


def climbs_within_caps(walked: Walked) -> Iterator[bool]:
    """Statement 2: one lever a day, within its cap."""
    plan, states = walked.plan, walked.table.states
    for row, after in ((row, to[SETTLED]) for row, to in enumerate(walked.table.next)):
        old, new = states[row], states[after]
        if new.rung > old.rung:
            rung = plan.ladder.rung(new.rung)
            cap = figures.HEAVIER_RISE.value if rung.heavier else plan.tuning.rise
            is_one = (new.rung, new.ease) == (old.rung + 1, old.ease)
            yield is_one and walked.borne[after] <= walked.borne[row] * (1 + cap) * ALMOST
        elif new.ease < old.ease:
            yield (new.rung, new.ease) == (old.rung, old.ease - 1)


def lengthens_alone(walked: Walked) -> Iterator[bool]:
    """Statement 2: a stretch lengthens only after a settled day, and on a day when nothing else goes up."""
    longest = [0 if state.mode == "held" else hold_seconds(walked.plan, state) for state in walked.table.states]
    for row, after in chain(walked.steps(SETTLED), walked.gaps()):
        yield longest[after] <= longest[row]
    for row, after in ((row, to[SETTLED]) for row, to in enumerate(walked.table.next)):
        if longest[after] > longest[row]:
            old, new = walked.table.states[row], walked.table.states[after]
            is_alone = (new.rung, new.ease) == (old.rung, old.ease)
            yield is_alone and walked.borne[after] <= walked.borne[row] * ALMOST


def has_ways_out(walked: Walked) -> Iterator[bool]:
    """Statement 3: a hold stays, every other state can rest and reach the goal."""
    table, states = walked.table, walked.table.states
    arrives = _arrives(walked)
    for row, state in enumerate(states):
        if state.mode == "held":
            yield set(table.next[row]) == {row}
        else:
            yield states[table.next[row][FLARED]].mode != "training" and arrives[row]


def _arrives(walked: Walked) -> dict[int, bool]:
    """Say for each row whether settled days alone lead to the highest rung at the whole range."""
    plan, states = walked.plan, walked.table.states
    known: dict[int, bool] = {}
    for row in range(len(states)):
        path, here = [row], row
        while here not in known and (after := walked.table.next[here][SETTLED]) not in path:
            path.append(after)
            here = after
        end = states[here]
        may_climb = not plan.climbs_by_hand
        goal = end.mode == "training" and not end.ease and (plan.is_top(end) or not may_climb)
        known |= dict.fromkeys(path, known.get(here, goal))
    return known


def worse_steps(walked: Walked) -> set[tuple[int, int]]:
    """Return every (better, worse) pair of responses whose ratings differ by one point in one rating, with the same work done."""
    pairs = set()
    for done, during, morning, before in product(DONE_AXIS, KNOWN_AXIS, KNOWN_AXIS, KNOWN_AXIS):
        worse = [
            (None if during is None else during + 1, morning, before),
            (during, None if morning is None else morning + 1, before),
            (during, morning, None if before is None else before - 1),
        ]
        given_ratings = (during, morning, before)
        for ratings in (each for number, each in enumerate(worse) if given_ratings[number] is not None):
            if all(rating in KNOWN_AXIS for rating in ratings):
                pairs.add((_classed(walked, done, given_ratings), _classed(walked, done, ratings)))
    return {(better, worse) for better, worse in pairs if better != worse}


def _classed(walked: Walked, done: str, ratings: tuple[int | None, ...]) -> int:
    during, morning, before = ratings
    letter = walked.table.cube[cube_index(done, during, morning, before)]
    return RESPONSES.index(RESPONSE_OF[letter])


def worse_never_earns_more(walked: Walked) -> Iterator[bool]:
    """Statement 4: on the next day, and on each later one while only settled days follow."""
    steps, seen = worse_steps(walked), set()
    for after in walked.table.next:
        for better_response, other in steps:
            pair = after[better_response], after[other]
            while pair not in seen and pair[0] != pair[1]:
                seen.add(pair)
                better, worse = pair
                yield walked.asked_j[worse] <= walked.asked_j[better] * ALMOST
                pair = walked.table.next[better][SETTLED], walked.table.next[worse][SETTLED]


def is_closed(walked: Walked) -> Iterator[bool]:
    """Statement 5: an answer for every class, within the table."""
    rows = range(len(walked.table.states))
    for row, number in product(rows, range(len(RESPONSES))):
        yield number < len(walked.table.next[row]) and walked.table.next[row][number] in rows


def phone_agrees(walked: Walked) -> Iterator[bool]:
    """Statement 6: the phone's look-ups give the result of the rules, for every state and every cell of the cube."""
    plan, phone = walked.plan, walked.phone
    for state in walked.table.states:
        for response in RESPONSES:
            for now in (state, *(_in_gap(state, days) for days in GAPS if response in IDLE)):
                after, reasons = close_day(plan, now, response)
                expected = (phone.position(after), reasons) if without_gap(after) in phone.rows else None
                yield phone.close(phone.position(now), response) == expected
    for cell in product(DONE_AXIS, KNOWN_AXIS, KNOWN_AXIS, KNOWN_AXIS):
        response = RESPONSE_OF[phone.cube[cube_index(*cell)]]
        yield response == classify(*cell, plan.client.usual, plan.tuning)


def _in_gap(state: State, days: int) -> State:
    return state._replace(gap_days=days, gap_rung=state.rung if days < HALF_WAY_GAP_DAYS else 0)


def only_done_work_earns(walked: Walked) -> Iterator[bool]:
    """Statement 7: no cell without enough done is settled; no class but settled raises rung or range."""
    for done, *ratings in product(DONE_AXIS, KNOWN_AXIS, KNOWN_AXIS, KNOWN_AXIS):
        if done != ENOUGH:
            yield _classed(walked, done, tuple(ratings)) != SETTLED
    states = walked.table.states
    for row, after in walked.steps(SETTLED):
        yield states[after].rung <= states[row].rung and states[after].ease >= states[row].ease


def comes_back_to_less(walked: Walked) -> Iterator[bool]:
    """Statement 9: work after a hold (by any release) or a rest (by any class of a day) is no more than before."""
    for row, state in enumerate(walked.table.states):
        if state.mode == "held":
            yield from (
                walked.work_if_training(back) <= walked.borne[row] * ALMOST
                for back in released_states(walked.plan, state)
            )
        elif state.mode == "resting":
            yield from (walked.borne[after] <= walked.borne[row] * ALMOST for after in walked.table.next[row])


CHECKS: dict[str, Callable[[Walked], Iterator[bool]]] = {
    "1": never_rises,
    "2": lambda walked: chain(climbs_within_caps(walked), lengthens_alone(walked)),
    "3": has_ways_out,
    "4": worse_never_earns_more,
    "5": is_closed,
    "6": phone_agrees,
    "7": only_done_work_earns,
    "9": comes_back_to_less,
}
"""The check of each statement, by its number. Statement 8 is about the review, which a table of states cannot show."""

"""The rules, as one table read from the top: the first that fits a day decides it.

A rule sees the state with the day already counted in (`counted`), and nothing else of the day. Its id is also
the key of the reason a person reads, in words/.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.plan import Plan, is_fast
from webapp.dosing.state import MODES, MOST_EASE, MOST_GAP_DAYS, MOST_PACE, State


@dataclass(frozen=True)
class Rule:
    """One row of the table.

    Attributes:
        id: Stable word; the key of its reason in words/.
        modes: The modes in which it can decide.
        responses: The responses it can decide.
        condition: In plain words, what else must hold.
        holds: The same, as a test of (state with the day counted in, plan, limit).
        effect: In plain words, what follows.
        then: The same, from the state with the day counted in to the next.
        basis: A key of content/sources.toml.
        limit: The number that the condition turns on, where it has one.
    """

    id: str
    modes: tuple[str, ...]
    responses: tuple[str, ...]
    condition: str
    holds: Callable[[State, Plan, int], bool]
    effect: str
    then: Callable[[State], State]
    basis: str
    limit: int = 0


class Closing(NamedTuple):
    """How a day closed: the next day's state, and the ids of the rules that made it so."""

    state: State
    reasons: tuple[str, ...]


FIRST_WEEK = int(figures.FIRST_WEEK_DAYS.value)
ANY = ("settled", "tender", "flared", "sharp", "unreported", "missed")
TRAINING, RESTING, HELD, NOT_HELD = ("training",), ("resting",), ("held",), ("training", "resting")


def counted(plan: Plan, state: State, response: str) -> State:
    """Count a day into a state: days of the first week, of gap, settled and tender ones."""
    rung, ease, streak, tender, gap, week, pace, mode = state
    if week:
        week = week + 1 if week < FIRST_WEEK else 0
    if mode == "training":
        gap = min(gap + 1, MOST_GAP_DAYS) if response == "missed" else 0
        if response == "settled":
            streak, tender = min(streak + 1, plan.most_streak), 0
        elif response == "tender":
            streak, tender = 0, tender + 1
    return State(rung, ease, streak, tender, gap, week, pace, mode)


def _changed(state: State, rung: int, ease: int, pace: int, mode: str = "training") -> State:
    """Give a state with something changed, so that counts towards the next change begin again."""
    return State(rung, ease, 0, 0, state.gap_days, state.first_week_day, pace, mode)


def _eased(state: State, mode: str = "training") -> State:
    """Cut once, in the practice's order: range first, then a rung; the pace is slow again."""
    if state.ease < MOST_EASE:
        return _changed(state, state.rung, state.ease + 1, 0, mode)
    return _changed(state, max(1, state.rung - 1), state.ease, 0, mode)


def _at_rung(state: State, rung: int) -> State:
    return _changed(state, max(1, rung), state.ease, 0)


def _half_way(state: State) -> State:
    # The rung of before the gap is two above, unless the bottom was met on the way.
    above = state.rung - 1
    return _at_rung(state, 1 + (above + 2) // 2 if above else 1)


def _climbed(state: State) -> State:
    return _changed(state, state.rung + 1, state.ease, min(MOST_PACE, state.pace + 1))


def _same(state: State) -> State:
    return state


def _always(_state: State, _plan: Plan, _limit: int) -> bool:
    return True


def _may_climb(state: State, plan: Plan) -> bool:
    """A rung above is there, it is not a heavier weight in the first week, and the range is full."""
    if state.ease or plan.is_top(state):
        return False
    return not (plan.next_rung(state).heavier and state.first_week_day)


def _has_climbed_enough(state: State, plan: Plan, _limit: int) -> bool:
    return _may_climb(state, plan) and state.settled_streak >= plan.slow_days(state)


def _may_climb_sooner(state: State, plan: Plan, _limit: int) -> bool:
    if not is_fast(state) or not _may_climb(state, plan):
        return False
    days = plan.fast_days(state)
    return days < plan.slow_days(state) and state.settled_streak >= days


RULES: tuple[Rule, ...] = (
    Rule("held", HELD, ANY, "always", _always, "nothing changes until a release", _same, "common-practice"),
    Rule("stop", NOT_HELD, ("sharp",), "always", _always, "held: no dose until released",
         lambda state: State(state.rung, mode="held"), "boonstra-2016"),
    Rule("still-resting", RESTING, ("flared",), "always", _always, "rest goes on", _same, "silbernagel-2007"),
    Rule("rest-over", RESTING, ("settled", "tender", "unreported", "missed"), "always", _always, "training again, eased",
         lambda state: state._replace(mode="training"), "silbernagel-2007"),
    Rule("rest-and-ease", TRAINING, ("flared",), "always", _always, "rest a day and ease once",
         lambda state: _eased(state, "resting"), "nhs-inform-elbow"),
    Rule("past-the-cycle", TRAINING, ("tender",), "tender more days in a row than is ordinary",
         lambda state, _, limit: state.tender_days > limit, "ease once", _eased, "doms-2003", limit=3),
    Rule("stay", TRAINING, ("tender",), "always", _always, "the same dose", _same, "silbernagel-2007"),
    Rule("widen", TRAINING, ("settled",), "eased, and enough settled days",
         lambda state, plan, _: state.ease > 0 and state.settled_streak >= plan.days_to_widen(),
         "one step of range back", lambda state: _changed(state, state.rung, state.ease - 1, state.pace), "magnusson-2010"),
    Rule("pace", TRAINING, ("settled",), "full range, two clean climbs behind, and enough settled days for that",
         _may_climb_sooner, "the next rung, sooner", _climbed, "own-choice"),
    Rule("climb", TRAINING, ("settled",), "full range, and enough settled days", _has_climbed_enough,
         "the next rung", _climbed, "peterson-2011"),
    Rule("top", TRAINING, ("settled",), "full range on the highest rung",
         lambda state, plan, _: not state.ease and plan.is_top(state), "the goal's dose goes on", _same, "common-practice"),
    Rule("wait", TRAINING, ("settled",), "always", _always, "the same dose, and the day counts", _same, "magnusson-2010"),
    Rule("no-report-no-climb", TRAINING, ("unreported",), "always", _always, "neither helps nor harms", _same, "own-choice"),
    Rule("gap-start", TRAINING, ("missed",), "this many days missed in a row", lambda state, _, limit: state.gap_days >= limit,
         "the start of the ladder", lambda state: _at_rung(state, 1), "mcmaster-2013", limit=28),
    Rule("gap-half", TRAINING, ("missed",), "just this many days missed", lambda state, _, limit: state.gap_days == limit,
         "half way down", _half_way, "mcmaster-2013", limit=14),
    Rule("gap-two-down", TRAINING, ("missed",), "just this many days missed", lambda state, _, limit: state.gap_days == limit,
         "two rungs down", lambda state: _at_rung(state, state.rung - 2), "mcmaster-2013", limit=7),
    Rule("gap-streak", TRAINING, ("missed",), "this many days missed or more", lambda state, _, limit: state.gap_days >= limit,
         "the same rung, settled days start again",
         lambda state: _changed(state, state.rung, state.ease, state.pace), "mcmaster-2013", limit=3),
    Rule("gap-resume", TRAINING, ("missed",), "always", _always, "the same dose", _same, "mcmaster-2013"),
)  # fmt: skip


Table = Mapping[tuple[str, str], tuple[Rule, ...]]


def table_of(rules: tuple[Rule, ...]) -> Table:
    """Sort rules by the (mode, response) that they can decide, each kept in the order of the table."""
    return {
        (mode, response): tuple(rule for rule in rules if mode in rule.modes and response in rule.responses)
        for mode, response in product(MODES, ANY)
    }


TABLE = table_of(RULES)


def close_day(plan: Plan, state: State, response: str, table: Table = TABLE) -> Closing:
    """Close a day: how it went decides the state on the next.

    Args:
        plan: The routine fitted to the client.
        state: At the start of the day.
        response: One of `responses.RESPONSES`; a ValueError for any other.
        table: The rules by mode and response.
    """
    if response not in ANY:
        raise ValueError(response)
    now = counted(plan, state, response)
    for rule in table[now.mode, response]:
        if rule.holds(now, plan, rule.limit):
            return Closing(rule.then(now), (rule.id,))
    raise LookupError(response)

"""The rules, as one table read from the top: the first that fits a day decides it.

A rule sees the state with the day already counted in (`counted`). Its id is also the key of
the reason a person reads, in words/.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.plan import Plan
from webapp.dosing.state import MOST_EASE, MOST_GAP_DAYS, MOST_PACE, State, shared_state


class Day(NamedTuple):
    """What a rule may look at: the state as it was, with the day counted in, and how the day went."""

    was: State
    now: State
    response: str
    plan: Plan


@dataclass(frozen=True)
class Rule:
    """One row of the table.

    Attributes:
        id: Stable word; the key of its reason in words/.
        responses: The responses it can decide.
        condition: In plain words, what else must hold.
        holds: The same, as a test of (day, limit).
        effect: In plain words, what follows.
        then: The same, from the day to the next state.
        basis: A key of content/sources.toml.
        limit: The number that the condition turns on, where it has one.
    """

    id: str
    responses: tuple[str, ...]
    condition: str
    holds: Callable[[Day, int], bool]
    effect: str
    then: Callable[[Day], State]
    basis: str
    limit: int = 0


class Closing(NamedTuple):
    """How a day closed: the next day's state, and the ids of the rules that made it so."""

    state: State
    reasons: tuple[str, ...]


FIRST_WEEK = int(figures.FIRST_WEEK_DAYS.value)
ANY = ("settled", "tender", "flared", "sharp", "unreported", "missed")


def counted(plan: Plan, state: State, response: str) -> State:
    """Count a day into a state: days of the first week, of gap, settled and tender ones."""
    week = state.first_week_day
    week = week + 1 if 0 < week < FIRST_WEEK else 0
    streak, tender, gap = state.settled_streak, state.tender_days, state.gap_days
    if state.mode == "training":
        gap = min(gap + 1, MOST_GAP_DAYS) if response == "missed" else 0
        if response == "settled":
            streak, tender = min(streak + 1, plan.most_streak), 0
        elif response == "tender":
            streak, tender = 0, tender + 1
    return shared_state(state.rung, state.ease, streak, tender, gap, week, state.pace, state.mode)


def _changed(state: State, rung: int, ease: int, pace: int, mode: str = "training") -> State:
    """Give a state with something changed, so that counts towards the next change begin again."""
    return shared_state(rung, ease, 0, 0, state.gap_days, state.first_week_day, pace, mode)


def _eased(state: State, mode: str = "training") -> State:
    """Cut once, in the practice's order: range first, then a rung; the pace is slow again."""
    if state.ease < MOST_EASE:
        return _changed(state, state.rung, state.ease + 1, 0, mode)
    return _changed(state, max(1, state.rung - 1), state.ease, 0, mode)


def _trained(state: State) -> State:
    return replace(state, mode="training")


def _at_rung(state: State, rung: int) -> State:
    return _changed(state, max(1, rung), state.ease, 0)


def _half_way(day: Day) -> State:
    # The rung of before the gap is two above, unless the bottom was met on the way.
    above = day.now.rung - 1
    return _at_rung(day.now, 1 + (above + 2) // 2 if above else 1)


def _climbed(day: Day) -> State:
    return _changed(day.now, day.now.rung + 1, day.now.ease, min(MOST_PACE, day.now.pace + 1))


def _always(_day: Day, _limit: int) -> bool:
    return True


def _may_climb(day: Day) -> bool:
    """A rung above is there, it is not a heavier weight in the first week, and the range is full."""
    if day.now.ease or day.plan.is_top(day.now):
        return False
    return not (day.plan.next_rung(day.now).heavier and day.now.first_week_day)


def _has_climbed_enough(day: Day, pace: int) -> bool:
    if not _may_climb(day) or day.now.settled_streak < day.plan.days_to_climb(day.now):
        return False
    is_sooner = day.plan.days_to_climb(day.now) < day.plan.slow_days(day.now)
    return is_sooner == bool(pace)


RULES: tuple[Rule, ...] = (
    Rule("held", ANY, "a hold is on", lambda day, _: day.was.mode == "held",
         "nothing changes until a release", lambda day: day.now, "common-practice"),
    Rule("stop", ("sharp",), "always", _always,
         "held: no dose until released", lambda day: State(day.now.rung, mode="held"), "boonstra-2016"),
    Rule("still-resting", ("flared",), "already resting", lambda day, _: day.was.mode == "resting",
         "rest goes on", lambda day: day.now, "silbernagel-2007"),
    Rule("rest-over", ANY, "resting, and not flared", lambda day, _: day.was.mode == "resting",
         "training again, eased", lambda day: _trained(day.now), "silbernagel-2007"),
    Rule("rest-and-ease", ("flared",), "always", _always,
         "rest a day and ease once", lambda day: _eased(day.now, "resting"), "nhs-inform-elbow"),
    Rule("past-the-cycle", ("tender",), "tender more days in a row than is ordinary",
         lambda day, limit: day.now.tender_days > limit, "ease once", lambda day: _eased(day.now), "doms-2003", limit=3),
    Rule("stay", ("tender",), "always", _always, "the same dose", lambda day: day.now, "silbernagel-2007"),
    Rule("widen", ("settled",), "eased, and enough settled days",
         lambda day, _: day.now.ease > 0 and day.now.settled_streak >= day.plan.days_to_widen(),
         "one step of range back", lambda day: _changed(day.now, day.now.rung, day.now.ease - 1, day.now.pace), "magnusson-2010"),
    Rule("climb", ("settled",), "full range, and enough settled days",
         lambda day, _: _has_climbed_enough(day, 0), "the next rung", _climbed, "peterson-2011"),
    Rule("pace", ("settled",), "full range, two clean climbs behind, and enough settled days",
         lambda day, _: _has_climbed_enough(day, 1), "the next rung, sooner", _climbed, "own-choice"),
    Rule("top", ("settled",), "full range on the highest rung",
         lambda day, _: not day.now.ease and day.plan.is_top(day.now), "the goal's dose goes on",
         lambda day: day.now, "common-practice"),
    Rule("wait", ("settled",), "always", _always, "the same dose, and the day counts",
         lambda day: day.now, "magnusson-2010"),
    Rule("no-report-no-climb", ("unreported",), "always", _always, "neither helps nor harms",
         lambda day: day.now, "own-choice"),
    Rule("gap-start", ("missed",), "this many days missed in a row", lambda day, limit: day.now.gap_days >= limit,
         "the start of the ladder", lambda day: _at_rung(day.now, 1), "mcmaster-2013", limit=28),
    Rule("gap-half", ("missed",), "just this many days missed", lambda day, limit: day.now.gap_days == limit,
         "half way down", _half_way, "mcmaster-2013", limit=14),
    Rule("gap-two-down", ("missed",), "just this many days missed", lambda day, limit: day.now.gap_days == limit,
         "two rungs down", lambda day: _at_rung(day.now, day.now.rung - 2), "mcmaster-2013", limit=7),
    Rule("gap-streak", ("missed",), "this many days missed or more", lambda day, limit: day.now.gap_days >= limit,
         "the same rung, settled days start again",
         lambda day: _changed(day.now, day.now.rung, day.now.ease, day.now.pace), "mcmaster-2013", limit=3),
    Rule("gap-resume", ("missed",), "always", _always, "the same dose", lambda day: day.now, "mcmaster-2013"),
)  # fmt: skip


Table = Mapping[str, tuple[Rule, ...]]


def table_of(rules: tuple[Rule, ...]) -> Table:
    """Sort rules by the response that they can decide, each kept in the order of the table."""
    return {response: tuple(rule for rule in rules if response in rule.responses) for response in ANY}


TABLE = table_of(RULES)


def close_day(plan: Plan, state: State, response: str, table: Table = TABLE) -> Closing:
    """Close a day: how it went decides the state on the next.

    Args:
        plan: The routine fitted to the client.
        state: At the start of the day.
        response: One of `responses.RESPONSES`; a ValueError for any other.
        table: The rules by response.
    """
    if response not in table:
        raise ValueError(response)
    day = Day(state, counted(plan, state, response), response, plan)
    for rule in table[response]:
        if rule.holds(day, rule.limit):
            return Closing(rule.then(day), (rule.id,))
    raise LookupError(response)

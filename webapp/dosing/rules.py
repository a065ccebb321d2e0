"""The rules, in three tables read from the top: the first row that fits decides.

A day is closed in three steps: its own rule, then the rule of the first week, then, on a day without a session, the
rule of the gap. Only the rule of the gap reads the days of gap, and it does not read the response. Each step gets the
state that the step before it returned; the day is counted before the first step. The id of a rule is also the key of
the reason that a person reads, in words/.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product

from webapp.dosing import figures, moves
from webapp.dosing.plan import Plan
from webapp.dosing.responses import IDLE, RESPONSES
from webapp.dosing.state import (
    HALF_WAY_GAP_DAYS,
    MODES,
    MOST_EASE,
    MOST_GAP_DAYS,
    State,
)

OWN, WEEK, GAP = "own", "first week", "gap"
STEPS = (OWN, WEEK, GAP)


@dataclass(frozen=True)
class Rule:
    """One row of the tables.

    Attributes:
        id: A stable word; the key of its reason in words/.
        step: One of `STEPS`.
        modes: The modes in which the rule can decide.
        responses: The responses that the rule can decide.
        condition: What else must hold, in plain words.
        holds: The condition, as a test of (state with the day counted, plan, limit).
        effect: What follows, in plain words.
        then: The effect, as a function of (state with the day counted, plan) that returns the next state.
        basis: A key of content/sources.toml.
        limit: The number in the condition, where there is one.
    """

    id: str
    step: str
    modes: tuple[str, ...]
    responses: tuple[str, ...]
    condition: str
    holds: Callable[[State, Plan, int], bool]
    effect: str
    then: Callable[[State, Plan], State]
    basis: str
    limit: int = 0


SETTLED, TENDER, FLARED = ("settled",), ("tender", "tender_over", "sore"), ("flared", "flared_idle")
ACHING, WORSE = ("aching", "aching_untold"), ("tender_over", "sore", "flared", "flared_idle")
BETTER = tuple(response for response in RESPONSES if response not in (*WORSE, "sharp"))
TRAINING, RESTING, HELD, NOT_HELD = ("training",), ("resting",), ("held",), ("training", "resting")


RULES: tuple[Rule, ...] = (
    Rule("held", OWN, HELD, RESPONSES, "always", moves.always, "nothing changes until a release", moves.same,
         "common-practice"),
    Rule("stop", OWN, NOT_HELD, ("sharp",), "always", moves.always, "held: no dose until released; rung and range are kept",
         moves.held, "boonstra-2016"),

    Rule("rest-to-hold", OWN, RESTING, WORSE, "this day of rest would follow",
         lambda state, _, limit: state.rest_days + 1 >= limit, "held: no dose until released", moves.held, "own-choice",
         limit=int(figures.HOLD_AFTER_REST_DAYS.value)),
    Rule("rest-be-seen", OWN, RESTING, WORSE, "this day of rest, or a later one, would follow",
         lambda state, _, limit: state.rest_days + 1 >= limit, "rest goes on; the practitioner is told, the client is asked to be seen",
         moves.rested_on, "own-choice", limit=int(figures.BE_SEEN_REST_DAYS.value)),
    Rule("still-resting", OWN, RESTING, WORSE, "always", moves.always, "rest goes on", moves.rested_on, "silbernagel-2007"),
    Rule("rest-over", OWN, RESTING, BETTER, "always", moves.always, "training again", moves.rest_over, "silbernagel-2007"),

    Rule("rest-and-ease", OWN, TRAINING, FLARED, "the range can be eased", moves.may_ease,
         "rest, and ease the range one step", moves.eased_and_rested, "nhs-inform-elbow"),
    Rule("rest-at-the-bottom", OWN, TRAINING, FLARED, "half range on the lowest rung", moves.at_floor, "rest",
         moves.rested, "nhs-inform-elbow"),
    Rule("rest-and-step-down", OWN, TRAINING, FLARED, "half range already", moves.always, "rest, and go one rung down",
         moves.rung_down_and_rested, "nhs-inform-elbow"),

    Rule("past-the-cycle", OWN, TRAINING, TENDER, "the range can be eased, and tender for more days in a row than this",
         lambda state, plan, limit: moves.may_ease(state, plan, limit) and state.tender_days > limit,
         "ease the range one step", moves.eased, "doms-2003", limit=3),
    Rule("tender-rest", OWN, TRAINING, TENDER, "half range on the lowest rung, and tender for this many days in a row",
         lambda state, plan, limit: moves.at_floor(state, plan, limit) and state.tender_days >= limit, "rest",
         moves.rested, "own-choice", limit=7),
    Rule("tender-step-down", OWN, TRAINING, TENDER, "half range, and tender for this many days in a row",
         lambda state, _, limit: state.ease == MOST_EASE and state.tender_days >= limit, "one rung down", moves.rung_down,
         "own-choice", limit=7),
    Rule("tender-at-half", OWN, TRAINING, TENDER, "half range, and tender for more days in a row than this",
         lambda state, _, limit: state.ease == MOST_EASE and state.tender_days > limit,
         "the same dose, and the practitioner is told", moves.same, "own-choice", limit=3),
    Rule("stay", OWN, TRAINING, TENDER, "always", moves.always, "the same dose", moves.same, "silbernagel-2007"),

    Rule("ache", OWN, TRAINING, ACHING, "always", moves.always, "the same dose; settled days start again", moves.same,
         "silbernagel-2007"),
    Rule("no-number", OWN, TRAINING, ("unreported",), "always", moves.always, "neither helps nor harms", moves.same,
         "own-choice"),
    Rule("part-done", OWN, TRAINING, ("partly",), "always", moves.always, "neither helps nor harms", moves.same, "own-choice"),

    Rule("widen", OWN, TRAINING, SETTLED, "eased, and enough settled days", moves.widens, "one step of range back",
         moves.widened, "magnusson-2010"),
    Rule("first-week-fuller", OWN, TRAINING, SETTLED, "full range, the first short sessions, from this day of the first week to the fifth",
         moves.may_get_fuller, "fuller short sessions", moves.fuller, "own-choice", limit=int(figures.FIRST_DAYS.value)),
    Rule("first-week-grows", OWN, TRAINING, SETTLED, "full range, one session whose sets are not whole yet, and this many settled days",
         moves.grows, "the sets grow by at most half", moves.grown, "own-choice", limit=moves.ONE_CHANGE_DAYS),
    Rule("pace", OWN, TRAINING, SETTLED, "full range, two clean climbs behind, a heavier weight next, enough settled days for that",
         moves.climbs_sooner, "the next rung, sooner", moves.climbed, "own-choice"),
    Rule("climb", OWN, TRAINING, SETTLED, "full range, and enough settled days", moves.climbs, "the next rung", moves.climbed,
         "peterson-2011"),
    Rule("top", OWN, TRAINING, SETTLED, "full range on the highest rung", moves.is_top, "the same dose goes on", moves.waited,
         "common-practice"),
    Rule("by-hand", OWN, TRAINING, SETTLED, "full range, and a usual morning of 4 or more", moves.waits_for_a_hand,
         "the same dose, until the practitioner sets the next rung", moves.waited, "own-choice"),
    Rule("owed", OWN, TRAINING, SETTLED, "settled days are still owed after a release", moves.owes_days,
         "the same dose, and the day counts", moves.waited, "own-choice"),
    Rule("wait", OWN, TRAINING, SETTLED, "always", moves.always, "the same dose, and the day counts", moves.waited,
         "magnusson-2010"),

    Rule("first-week-together", WEEK, NOT_HELD, RESPONSES, "the last day of short sessions", moves.is_last_short_day,
         "one session a day, and no set more than half as long again", moves.come_together, "common-practice"),

    Rule("gap-start", GAP, NOT_HELD, IDLE, "this many days in a row without a session, above the lowest rung",
         lambda state, _, limit: state.gap_days >= limit and state.rung > 1, "the start of the ladder",
         lambda state, plan: moves.gone_down(state, plan, 1), "mcmaster-2013", limit=MOST_GAP_DAYS),
    Rule("gap-half", GAP, NOT_HELD, IDLE, "just this many days in a row without a session, and half way is lower",
         lambda state, _, limit: state.gap_days == limit and moves.half_way(state) < state.rung,
         "half of the way down, at least two rungs below where the gap began",
         lambda state, plan: moves.gone_down(state, plan, moves.half_way(state)), "mcmaster-2013", limit=HALF_WAY_GAP_DAYS),
    Rule("gap-two-down", GAP, NOT_HELD, IDLE, "just this many days in a row without a session, above the second rung",
         lambda state, _, limit: state.gap_days == limit and state.rung > 2, "two rungs down",  # noqa: PLR2004 - two down
         lambda state, plan: moves.gone_down(state, plan, state.rung - 2), "mcmaster-2013", limit=moves.WEEK_AWAY),
    Rule("gap-one-down", GAP, NOT_HELD, IDLE, "just this many days in a row without a session, on the second rung",
         lambda state, _, limit: state.gap_days == limit and state.rung > 1, "one rung down, to the lowest",
         lambda state, plan: moves.gone_down(state, plan, 1), "mcmaster-2013", limit=moves.WEEK_AWAY),
    Rule("gap-streak", GAP, NOT_HELD, IDLE, "this many days in a row without a session, or more", moves.is_gap,
         "the same rung; settled days start again", moves.streak_again, "mcmaster-2013", limit=3),
    Rule("gap-resume", GAP, TRAINING, IDLE, "always", moves.always, "the same dose", moves.same, "mcmaster-2013"),
)  # fmt: skip


Table = Mapping[tuple[str, str, str], tuple[Rule, ...]]


def table_of(rules: tuple[Rule, ...]) -> Table:
    """Return the rules that can decide each (step, mode, response), in the order of the table."""
    return {
        (step, mode, response): tuple(
            rule for rule in rules if rule.step == step and mode in rule.modes and response in rule.responses
        )
        for step, mode, response in product(STEPS, MODES, RESPONSES)
    }


TABLE = table_of(RULES)

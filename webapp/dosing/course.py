"""The run of days: a fold from the facts of each day to its state and its dose."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from webapp.dosing.closing import Closing, close_day
from webapp.dosing.dose import Dose, dose
from webapp.dosing.plan import Plan
from webapp.dosing.release import Return, released
from webapp.dosing.responses import ENOUGH, NONE, PART, deciding_rule
from webapp.dosing.settings import Tuning
from webapp.dosing.state import State

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class DayFacts:
    """What is known of one arm's day.

    Attributes:
        sessions: How many sessions were begun.
        done: How much of the day's asked work was done, of `responses.DONE_AXIS`.
        during: Worst discomfort in any of the sessions, 0-10, or None where none was rated.
        is_unrated: Whether a session in which reps were done has no rating.
        morning: The rating on the morning after, 0-10, or None while there is no report.
        sharp: Sharp, catching or disabling pain, or a warning sign.
        sport_minutes: Minutes of sport on the way back, or None without any; its worst counts in `during` too.
        sport_worst: Worst discomfort in that sport, 0-10, or None where it is not known.
        sport_amount: How much it was beside what its step asks: fewer, asked, more.
        sport_strokes: The strokes that were counted in it, or None.
        is_near_sport: A day with sport on the way back, or within 72 hours after a step up: then nothing else goes up.
    """

    sessions: int = 0
    done: str = NONE
    during: int | None = None
    is_unrated: bool = False
    morning: int | None = None
    sharp: bool = False
    sport_minutes: int | None = None
    sport_worst: int | None = None
    is_near_sport: bool = False
    sport_amount: str = "asked"
    sport_strokes: int | None = None


NOTHING = DayFacts()


@dataclass(frozen=True)
class ClosedDay:
    """One closed day of one arm: what was known, how it was classed and why, and what followed.

    Attributes:
        on: The date.
        facts: What was known of the day.
        before: The lowest morning reported on this day and the two before it, or None.
        response: How the day was classed.
        classed_by: Id of the row of the classing table that decided, or `SHARP_TOLD`.
        reasons: Ids of the rules that decided the next day.
        state_before: The state at the start of the day.
        state_after: The state at the start of the next day.
        dose: What the day asked.
    """

    on: date
    facts: DayFacts
    before: int | None
    response: str
    classed_by: str
    reasons: tuple[str, ...]
    state_before: State
    state_after: State
    dose: Dose


SHARP_TOLD = "sharp-told"
BEFORE_DAYS = 3


def lowest(mornings: Sequence[int | None]) -> int | None:
    """Return the lowest of some mornings, or None where none of them is known."""
    return min((morning for morning in mornings if morning is not None), default=None)


def classed(plan: Plan, facts: DayFacts, before: int | None) -> tuple[str, str]:
    """Class a day by its facts. A day with sharp pain is sharp, whatever the ratings.

    A session without a rating hides no known rating. The day is classed as not rated only where the known ratings
    alone would make it settled or partly done.

    Args:
        plan: Holds the usual morning and the settled ceiling.
        facts: The facts of the day.
        before: The lowest morning reported on this day and the two before it.

    Returns:
        The response, and the id of the row of `responses.CLASSES` that decided, or `SHARP_TOLD`.
    """
    if facts.sharp:
        return "sharp", SHARP_TOLD
    response, rule = _looked_up(plan, facts.done, facts.during, facts.morning, before)
    if facts.is_unrated and response in ("settled", "partly"):
        return _looked_up(plan, facts.done, None, facts.morning, before)
    return response, rule


def _looked_up(plan: Plan, done: str, during: int | None, morning: int | None, before: int | None) -> tuple[str, str]:
    """Return the response and the id of the row that decided; the plan caches both by combination."""
    cell = done, during, morning, before
    known: tuple[str, str] | None = plan.worked_out.get(cell)
    if known is None:
        rule, response = deciding_rule(*cell, plan.client.usual, plan.tuning)
        known = plan.worked_out[cell] = response, rule.id
    return known


def response_so_far(plan: Plan, state: State, facts: Mapping[date, DayFacts], on: date) -> str:
    """Return the response to what is known of a day in a state, before its next morning is told."""
    known = replace(facts.get(on, NOTHING), morning=None)
    (day,) = follow(plan, state, on, {**facts, on: known}, on + ONE_DAY)
    return day.response


def done_on(facts: DayFacts, state: State) -> DayFacts:
    """Return the facts as they count in a state: on a day that asks nothing, or near sport, work done counts as part, not enough."""
    is_more = facts.done == ENOUGH and (state.mode != "training" or facts.is_near_sport)
    return replace(facts, done=PART) if is_more else facts


def is_sharp(facts: DayFacts) -> bool:
    """Say whether a day is sharp. The answer depends on neither the plan nor earlier mornings."""
    if facts.sharp:
        return True
    rule, _ = deciding_rule(facts.done, facts.during, facts.morning, None, 0, Tuning())
    return rule.response == "sharp"


def days_between(start_on: date, until: date) -> Iterator[date]:
    """Yield the days from `start_on` up to the day before `until`."""
    for number in range((until - start_on).days):
        yield start_on + number * ONE_DAY


def follow(
    plan: Plan,
    state: State,
    start_on: date,
    facts: Mapping[date, DayFacts],
    until: date,
    releases: Mapping[date, Return] | None = None,
    *,
    counts_days_held: bool = False,
) -> list[ClosedDay]:
    """Close every day from `start_on` up to the day before `until`.

    Args:
        plan: The routine fitted to the client.
        state: The state at the start of `start_on`.
        start_on: The first day to close.
        facts: The facts by day. On a day without an entry nothing was done or reported. Mornings of days before
            `start_on` count for `before`.
        until: The first day that stays open.
        releases: The return that each release chose, by the day at whose start the hold ends.
        counts_days_held: Whether the days held limit how much a release may give. A release from the desk was limited
            when the practitioner chose it.

    Returns:
        The closed days, the oldest first; empty where `until` is not after `start_on`.
    """
    closed, days_held = [], 0
    worked_out: dict[tuple[State, str], tuple[Closing, Dose]] = {}
    mornings = [facts.get(start_on - number * ONE_DAY, NOTHING).morning for number in range(BEFORE_DAYS, 0, -1)]
    for on in days_between(start_on, until):
        known, before = facts.get(on, NOTHING), lowest(mornings)
        mornings = [*mornings[1:], known.morning]
        response, classed_by = classed(plan, done_on(known, state), before)
        # In a long course most days are like another one before them.
        if (state, response) not in worked_out:
            worked_out[state, response] = close_day(plan, state, response), dose(plan, state)
        closing, days_dose = worked_out[state, response]
        after, reasons = closing.state, closing.reasons
        days_held = days_held + 1 if counts_days_held and state.mode == "held" else 0
        chosen = (releases or {}).get(on + ONE_DAY)
        if chosen is not None and after.mode == "held":
            after, reasons = released(plan, after, chosen, days_held), ("released",)
        closed.append(ClosedDay(on, known, before, response, classed_by, reasons, state, after, days_dose))
        state = after
    return closed

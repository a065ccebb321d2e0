"""The run of days: facts in, states and doses out. A fold, and nothing but."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from webapp.dosing.dose import Dose, dose
from webapp.dosing.plan import Plan
from webapp.dosing.responses import NO_SESSION, UNRATED, During, deciding_rule
from webapp.dosing.rules import close_day
from webapp.dosing.settings import Tuning
from webapp.dosing.state import State

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True)
class DayFacts:
    """What is known of one arm's day.

    Attributes:
        sessions: How many were done.
        during: Worst discomfort in any of them, 0-10, or None where none was rated.
        morning: The rating on the morning after, 0-10, or None while there is no report.
        sharp: Sharp, catching or disabling pain, or a warning sign.
    """

    sessions: int = 0
    during: int | None = None
    morning: int | None = None
    sharp: bool = False


NOTHING = DayFacts()


@dataclass(frozen=True)
class DayAccount:
    """One closed day: what was known, how it was classed and why, and what followed.

    Attributes:
        on: The day.
        facts: What was known of it.
        before: The last morning known before the one after this day, or None.
        response: How it was classed.
        classed_by: Id of the row of the classing table that decided, or `SHARP_TOLD`.
        reasons: Ids of the rules that decided the next day.
        state_before: At the start of the day.
        state_after: At the start of the next.
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


def during_of(facts: DayFacts) -> During:
    """Give a day's place on the cube's first axis."""
    if not facts.sessions:
        return NO_SESSION
    return UNRATED if facts.during is None else facts.during


SHARP_TOLD = "sharp-told"


def classed(plan: Plan, facts: DayFacts, before: int | None) -> tuple[str, str]:
    """Class a day by its facts; sharp as soon as it is reported, whatever the ratings.

    Returns:
        The response, and the id of the row of `responses.CLASSES` that decided, or `SHARP_TOLD`.
    """
    if facts.sharp:
        return "sharp", SHARP_TOLD
    rule = deciding_rule(during_of(facts), facts.morning, before, plan.client.usual, plan.tuning)
    return rule.response, rule.id


def is_sharp(facts: DayFacts) -> bool:
    """Say whether a day is sharp; no plan changes that, and no earlier morning."""
    return facts.sharp or deciding_rule(during_of(facts), facts.morning, None, 0, Tuning()).response == "sharp"


def days_between(start_on: date, until: date) -> Iterator[date]:
    """Give the days from `start_on` up to, and not with, `until`."""
    for number in range((until - start_on).days):
        yield start_on + number * ONE_DAY


def follow(
    plan: Plan,
    state: State,
    start_on: date,
    facts: Mapping[date, DayFacts],
    until: date,
    before: int | None = None,
) -> list[DayAccount]:
    """Close every day from `start_on` up to, and not with, `until`.

    Args:
        plan: The routine fitted to the client.
        state: At the start of `start_on`.
        start_on: The first day to close.
        facts: By day; a day without an entry is one on which nothing was done or reported.
        until: The day whose dose is wanted.
        before: The last morning known up to and with the morning of `start_on`.

    Returns:
        One account a day, the oldest first; empty where `until` is not after `start_on`.
    """
    accounts = []
    for on in days_between(start_on, until):
        known = facts.get(on, NOTHING)
        response, classed_by = classed(plan, known, before)
        closing = close_day(plan, state, response)
        asked = dose(plan, state)
        accounts.append(
            DayAccount(on, known, before, response, classed_by, closing.reasons, state, closing.state, asked)
        )
        state = closing.state
        before = before if known.morning is None else known.morning
    return accounts

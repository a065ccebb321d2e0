"""What each number of a morning, or of a session, brings: the classes as bands that a person can read from paper."""

from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.closing import close_day
from webapp.dosing.dose import range_of
from webapp.dosing.plan import Plan
from webapp.dosing.responses import ENOUGH, RATINGS, SHOWN, classify, sore_limit
from webapp.dosing.rules import RULES
from webapp.dosing.state import MOST_EASE, State


class RatingBand(NamedTuple):
    """Ratings in a row that bring the same: the lowest, the highest, and the response, of the nine that people read."""

    low: int
    high: int
    response: str


class PaperRules(NamedTuple):
    """The rules of one arm, for who goes by paper until the next sheet.

    Attributes:
        mornings: The bands of a morning after a calm session that was done as asked.
        sessions: The bands of a session's worst after calm mornings.
        rise: Points over the lowest of the three mornings before that bring a rest too, within the band of tender mornings.
        tender_days: After more tender mornings in a row than this, less is asked.
        rest_ends_at: The highest morning that ends a rest.
        be_seen_on: The day of a rest on which the arm is to be seen.
        eased: The share of the range after a rest, or after too many tender mornings; None where only a new sheet can ask less.
        away_days: After so many days in a row without a session the dose goes down.
    """

    mornings: tuple[RatingBand, ...]
    sessions: tuple[RatingBand, ...]
    rise: int
    tender_days: int
    rest_ends_at: int
    be_seen_on: int
    eased: float | None
    away_days: int


def bands(responses: Iterable[str]) -> tuple[RatingBand, ...]:
    """Return the bands of what each rating from 0 to 10 brings."""
    found = []
    for response, ratings in groupby(zip(RATINGS, responses, strict=True), key=lambda pair: pair[1]):
        numbers = [rating for rating, _ in ratings]
        found.append(RatingBand(numbers[0], numbers[-1], response))
    return tuple(found)


def paper_rules(plan: Plan, state: State) -> PaperRules:
    """Work out what a person with a sheet must know, from the same tables that close a day.

    Args:
        plan: The routine fitted to the client.
        state: The arm in training, as the sheet shows it.
    """
    usual, tuning = plan.client.usual, plan.tuning
    flared = close_day(plan, state._replace(mode="training", rest_days=0), "flared").state
    return PaperRules(
        bands(SHOWN[classify(ENOUGH, 0, rating, rating, usual, tuning)] for rating in RATINGS),
        bands(SHOWN[classify(ENOUGH, rating, 0, 0, usual, tuning)] for rating in RATINGS),
        int(figures.FLARED_RISE.value),
        next(rule.limit for rule in RULES if rule.id == "past-the-cycle"),
        sore_limit(usual),
        int(figures.BE_SEEN_REST_DAYS.value),
        range_of(flared.ease) if state.ease < MOST_EASE else None,
        next(rule.limit for rule in RULES if rule.id == "gap-two-down"),
    )

"""How a day felt, as a return ladder reads it: by the table that classes every day, with the worst in sport for the worst in the session."""

from collections.abc import Iterable

from webapp.dosing.course import DayFacts
from webapp.dosing.plan import Plan
from webapp.dosing.responses import ENOUGH, deciding_rule
from webapp.dosing.returning.rules import FEEL_OF, FEELS, FLARES

CALM = FEELS[0]


def feel_of(plan: Plan, facts: DayFacts, before: int | None, response: str) -> str:
    """Return how a day felt for one arm, of `rules.FEELS`.

    Args:
        plan: Holds the usual morning and the settled ceiling.
        facts: The facts of the day.
        before: The lowest morning reported on this day and the two before it.
        response: How the day was classed for the exercises; a flare or a stop there counts here too.
    """
    if FEEL_OF.get(response) in FLARES:
        return FEEL_OF[response]
    worst = 0 if facts.sport_minutes is None else facts.sport_worst
    _, own = deciding_rule(ENOUGH, worst, facts.morning, before, plan.client.usual, plan.tuning)
    return FEEL_OF[own]


def worst_feel(feels: Iterable[str]) -> str:
    """Return the worst of what several arms felt; calm without any."""
    return max(feels, key=FEELS.index, default=CALM)

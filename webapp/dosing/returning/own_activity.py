"""The point of the gate about the client's own activity: it must hurt little on some days in a row. The log seldom knows it; then it is asked."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from webapp.dosing import figures
from webapp.dosing.course import DayFacts
from webapp.dosing.returning.gate import MORNINGS, GatePoint

OWN_ACTIVITY = "own_activity"
TOLD, AGAINST, NOT_TOLD = "told", "against", "not_told"
"""The log tells that it was so; sport told of hurt more; the log does not know it, so the practitioner asks."""
DAYS_IN_A_ROW = int(figures.GATE_OWN_DAYS.value)
_MOST = int(figures.GATE_OWN_RATING.value)
_AS_BEFORE = 10
_ONE_DAY = timedelta(days=1)


def own_activity_point(facts: Iterable[Mapping[date, DayFacts]], ratings: Mapping[date, int], today: date) -> GatePoint:
    """Work out the point as far as the log knows it.

    An activity rated 10 can be done as before, so a rating counts as pain of at most 10 less it. A low rating alone speaks against nothing:
    it may be the very sport that is to come back.

    Args:
        facts: The facts of each arm by day; the worst in sport is read.
        ratings: By day the lowest rating of a named activity, 0 (not at all) to 10 (as before).
        today: The day; it counts.

    Returns:
        Its evidence: `answer`, of `TOLD`, `AGAINST`, `NOT_TOLD`; `worst` in sport of the last week and its day `on`, or None.
    """
    week = [today - number * _ONE_DAY for number in range(MORNINGS)]
    known = list(facts)
    sport = {on: _worst(known, on) for on in week}
    on = max(week, key=lambda each: (-1 if sport[each] is None else sport[each], each))
    worst = sport[on]
    hurt = {each: _hurt(sport[each], ratings.get(each)) for each in week}
    if worst is not None and worst > _MOST:
        answer = AGAINST
    else:
        rows = (week[first : first + DAYS_IN_A_ROW] for first in range(MORNINGS - DAYS_IN_A_ROW + 1))
        answer = TOLD if any(all(_is_little(hurt[each]) for each in row) for row in rows) else NOT_TOLD
    return GatePoint(OWN_ACTIVITY, answer == TOLD, {"answer": answer, "worst": worst, "on": on if worst else None})


def _worst(arms: Iterable[Mapping[date, DayFacts]], on: date) -> int | None:
    found = [days[on].sport_worst for days in arms if on in days]
    return max((each for each in found if each is not None), default=None)


def _hurt(worst: int | None, rating: int | None) -> int | None:
    parts = [worst, None if rating is None else _AS_BEFORE - rating]
    return max((each for each in parts if each is not None), default=None)


def _is_little(hurt: int | None) -> bool:
    return hurt is not None and hurt <= _MOST

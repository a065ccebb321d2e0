"""The first week's short sessions, several a day, one choice for each rung of the ladder."""

from dataclasses import dataclass
from math import ceil, floor

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.chain import Chain
from webapp.dosing.count import CLOSE, Count, side_goal


@dataclass(frozen=True)
class _Day:
    """What a first-week day of some short sessions adds up to, at full range."""

    count: Count
    lift: float
    work_j: float


def _short_days(chain: Chain, place: int, sessions: int) -> list[_Day]:
    """List the ways to split one rung's day: once to one and a half times the single session."""
    load_kg, whole, _ = chain.links[place]
    lever, single = lever_kg_m(chain.body, load_kg), chain.work(load_kg, whole)
    most = figures.FIRST_WEEK_WORK.value
    days = []
    for reps in range(floor(whole.reps * most / sessions + CLOSE), ceil(whole.reps / sessions) - 1, -1):
        goal = side_goal(reps, least=1)
        for side in (goal, goal - 1, goal + 1, goal - 2):
            count = Count(reps, side)
            work = chain.work(load_kg, count) * sessions
            if side > 0 and single - CLOSE <= work <= single * most + CLOSE:
                days.append(_Day(count, lever * reps * sessions, work))
    return sorted(days, key=lambda day: abs(day.count.side_reps - side_goal(day.count.reps, least=1)))


def _follows(day: _Day, below: _Day | None, cap: float) -> bool:
    if below is None:
        return True
    rises = day.lift >= below.lift - CLOSE and day.work_j > below.work_j + CLOSE
    return rises and day.work_j <= below.work_j * (1 + cap) + CLOSE


def first_week(chain: Chain, sessions: int) -> list[Count] | None:
    """Choose each rung's short session, so that first-week days rise as the ladder does.

    Neither a step down nor the end of the first week may then raise the work, and no climb
    raises it by more than the cap; a heavier weight is never climbed to in the first week.

    Returns:
        One count for each rung, or None where no choice holds for all.
    """
    choices = [_short_days(chain, place, sessions) for place in range(len(chain.links))]
    dead: set[tuple[int, Count]] = set()

    def lay(place: int, below: _Day | None) -> list[Count] | None:
        if place == len(chain.links):
            return []
        cap = float("inf") if chain.links[place][2] else chain.tuning.rise
        for day in choices[place]:
            if (place, day.count) in dead or not _follows(day, below, cap):
                continue
            above = lay(place + 1, day)
            if above is not None:
                return [day.count, *above]
            dead.add((place, day.count))
        return None

    return lay(0, None)

"""A way back that has stopped, as the caseload tells of it: since when, at which step, and by which rule."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from webapp.dosing.returning.go import STOPPED
from webapp.events.returning import way_on
from webapp.library.ladders import the_ladders
from webapp.records.database import Database
from webapp.sync.folding.fold import Course
from webapp.sync.folding.returning import WayBack, fold_way, told_ways


@dataclass(frozen=True)
class StoppedWay:
    """A way back that has stopped.

    Attributes:
        since: The day on which it stopped.
        why: The id of the rule that stopped it.
        step: The step at which it stopped.
        steps: The number of steps of its ladder.
    """

    since: date
    why: str
    step: int
    steps: int


def stopped_ways(db: Database, client: int, course: Course, days: Sequence[date]) -> dict[date, StoppedWay]:
    """Return a client's way back for each of some days at whose start it stands stopped.

    Args:
        db: The records.
        client: The client's key.
        course: The client's course, with the facts of all days.
        days: The days, one after the other.
    """
    ways, found = told_ways(db, client), dict[date, StoppedWay]()
    by_day = {on: way_on(ways, on) for on in days}
    for opened in dict.fromkeys(by_day.values()):
        if opened and opened.ladder in the_ladders():
            own = [on for on, each in by_day.items() if each == opened]
            found |= _stopped(fold_way(course, opened, own[-1]), own)
    return found


def _stopped(way: WayBack, days: Sequence[date]) -> dict[date, StoppedWay]:
    stops = (day for day in way.days if day.closed.state.go.mode == STOPPED)
    first = next(stops, None)
    if first is None:
        return {}
    stop = StoppedWay(first.on, first.closed.reasons[0], first.closed.state.step, len(way.page.ladder.steps))
    return {on: stop for on in days if on > first.on}

"""The first week: short sessions at first, then fuller ones, then one session whose sets grow to the whole.

Stages are numbered as `State.first_week_stage`: 1 the first days' short sessions, 2 the fuller ones, 3 one session with
the sets of stage 1, and from there on one session whose sets grow by at most half from one stage to the next. Only a
stop leads to stage 3. The last stage asks the whole session.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import floor
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.chain import Chain, Link
from webapp.dosing.count import CLOSE, Count, side_goal

FULLER_SESSIONS = 2
LEAST_SHORTER = 3
"""How many reps under its even share a short session may be, where rounding asks for it."""


class Stage(NamedTuple):
    """What a day of one stage asks at one rung: so many sessions of these reps, and the day's work at full range, J."""

    sessions: int
    reps: Count
    work_j: float


@dataclass(frozen=True)
class _Day:
    """A stage of one rung, and the palm lift that its day adds up to (kg m times reps)."""

    stage: Stage
    lift: float

    @property
    def work_j(self) -> float:
        """The day's work at full range, joules."""
        return self.stage.work_j


def grown(reps: int) -> int:
    """Return the most reps that a set may have on the day after it had `reps`: half as many more, at least one more."""
    return max(reps + 1, floor(reps * (1 + figures.SET_GROWTH.value) + CLOSE))


def _grown_count(count: Count, whole: Count) -> Count:
    return Count(min(whole.reps, grown(count.reps)), min(whole.side_reps, grown(count.side_reps)))


def _growing(count: Count, whole: Count) -> list[Count]:
    """List the sets of one session from those of the short sessions, `count`, up to and with the whole."""
    counts = [count]
    while counts[-1] != whole:
        counts.append(_grown_count(counts[-1], whole))
    return counts


class _Rung:
    """The stages that one rung may have."""

    def __init__(self, chain: Chain, link: Link, sessions: int) -> None:
        self.chain, self.link = chain, link
        self.sessions = sessions if not link.load_kg else min(sessions, FULLER_SESSIONS)
        self.lever = lever_kg_m(chain.body, link.load_kg)
        self.single_j = chain.work(link.load_kg, link.whole)

    def day(self, sessions: int, count: Count) -> _Day:
        work = self.chain.work(self.link.load_kg, count) * sessions
        return _Day(Stage(sessions, count, work), self.lever * count.reps * sessions)

    def _fits(self, day: _Day, most: float) -> bool:
        return day.work_j <= self.single_j * most + CLOSE

    def short(self) -> list[_Day]:
        """List the first days' short sessions: together at most the single session, the fullest first."""
        most = self.link.whole.reps // self.sessions
        counts = product(range(most, max(0, most - LEAST_SHORTER), -1), (0, -1, 1))
        counted = (Count(reps, max(1, side_goal(reps, least=1) + off)) for reps, off in counts)
        days = (self.day(self.sessions, count) for count in counted)
        return [day for day in days if self._fits(day, figures.FIRST_DAYS_WORK.value)]

    def fuller(self, short: _Day) -> list[_Day]:
        """List the two fuller sessions that may follow, the fullest first; no set grows by more than half."""
        least, most = short.stage.reps, _grown_count(short.stage.reps, self.link.whole)
        counts = product(range(least.reps, most.reps + 1), range(least.side_reps, most.side_reps + 1))
        days = [self.day(FULLER_SESSIONS, Count(*count)) for count in counts]
        fitting = [day for day in days if _rises(day, short) and self._fits(day, figures.FIRST_WEEK_WORK.value)]
        return sorted(fitting, key=_sides_off)

    @cached_property
    def choices(self) -> list[list[_Day]]:
        """Every way to lay out the stages of this rung, the best first."""
        return [self._stages(short, fuller) for short in self.short() for fuller in self.fuller(short)]

    def _stages(self, short: _Day, fuller: _Day) -> list[_Day]:
        growing = _growing(short.stage.reps, self.link.whole)
        return [short, fuller, *(self.day(1, count) for count in growing)]


def _sides_off(day: _Day) -> tuple[int, float]:
    """Rank the sessions whose sides are nearest to two thirds first, the fullest of them before the others."""
    count = day.stage.reps
    return abs(count.side_reps - side_goal(count.reps, least=1)), -day.work_j


def _rises(day: _Day, below: _Day) -> bool:
    # Palm reps weigh the more the smaller the range: where they and the whole rise, the work of every range does.
    return day.lift >= below.lift - CLOSE and day.work_j >= below.work_j - CLOSE


def _follows(days: list[_Day], below: list[_Day] | None) -> bool:
    """Say whether a rung's stages may stand on those of the rung below: no step down then raises any day's work."""
    if below is None:
        return True
    longest = max(len(days), len(below))
    pairs = zip(_padded(days, longest), _padded(below, longest), strict=True)
    return all(_rises(day, lower) for day, lower in pairs)


def _padded(days: list[_Day], length: int) -> list[_Day]:
    return days + days[-1:] * (length - len(days))


def first_week(chain: Chain, sessions: int) -> list[tuple[Stage, ...]] | None:
    """Choose each rung's stages, so that the days of every stage rise as the ladder does.

    Neither a step down nor the end of the short sessions may then raise the work.

    Args:
        chain: The rungs.
        sessions: Short sessions a day in the first days, 2 or 3; at a rung with a weight at most 2.

    Returns:
        For each rung as many stages, in the order of their numbers from 1; None where no choice holds for all.
    """
    rungs = [_Rung(chain, link, sessions) for link in chain.links]
    dead: set[tuple[int, int]] = set()

    def lay(place: int, below: list[_Day] | None) -> list[list[_Day]] | None:
        if place == len(rungs):
            return []
        for number, days in enumerate(rungs[place].choices):
            if (place, number) in dead or not _follows(days, below):
                continue
            above = lay(place + 1, days)
            if above is not None:
                return [days, *above]
            dead.add((place, number))
        return None

    laid = lay(0, None)
    if laid is None:
        return None
    longest = max(map(len, laid))
    return [tuple(day.stage for day in _padded(days, longest)) for days in laid]

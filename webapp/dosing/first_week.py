"""The first week: short sessions at first, then fuller ones, then one session whose sets grow to the whole.

Stages have the numbers of `State.first_week_stage`. Stage 1 is the short sessions of the first days. Stage 2 is the
fuller short sessions. Stage 3 is one session with the sets of stage 1; only a stop leads to it. In each later stage the
sets of the one session grow by at most half. The last stage asks the whole session.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import floor
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.chain import Chain, Link
from webapp.dosing.count import CLOSE, Count, side_goal

FULLER_SESSIONS = 2
LEAST_SHORTER = 3
"""Reps of a short session are the whole session's reps divided by the sessions, or fewer by less than this number."""


class Stage(NamedTuple):
    """What a day of one stage asks at one rung: sessions, the reps of each session, and the day's work at full range, J."""

    sessions: int
    reps: Count
    work_j: float


@dataclass(frozen=True)
class _Day:
    """A stage of one rung, and the palm lift of its whole day (kg m times reps)."""

    stage: Stage
    lift: float

    @property
    def work_j(self) -> float:
        """The day's work at full range, joules."""
        return self.stage.work_j


def grown(reps: int) -> int:
    """Return the most reps that a set may have on the day after it had `reps`: half as many more, or one more rep."""
    return max(reps + 1, floor(reps * (1 + figures.SET_GROWTH.value) + CLOSE))


def _grown_count(count: Count, whole: Count) -> Count:
    return Count(min(whole.reps, grown(count.reps)), min(whole.side_reps, grown(count.side_reps)))


def _growing(count: Count, whole: Count) -> list[Count]:
    """List the reps of the one session, stage by stage, from `count`, the short session's reps, to the whole session."""
    counts = [count]
    while counts[-1] != whole:
        counts.append(_grown_count(counts[-1], whole))
    return counts


class _Rung:
    """Lists the stages that one rung may have."""

    def __init__(self, chain: Chain, link: Link, sessions: int) -> None:
        self.chain, self.link = chain, link
        self.sessions = sessions if not link.load_kg else min(sessions, FULLER_SESSIONS)
        self.lever = lever_kg_m(chain.body, link.load_kg)
        self.single_j = chain.work(link.load_kg, link.whole)
        self._made: list[list[_Day]] = []
        self._to_make = (self._stages(short, fuller) for short in self.short() for fuller in self.fuller(short))

    def day(self, sessions: int, count: Count) -> _Day:
        work = self.chain.work(self.link.load_kg, count) * sessions
        return _Day(Stage(sessions, count, work), self.lever * count.reps * sessions)

    def _fits(self, day: _Day, most: float) -> bool:
        return day.work_j <= self.single_j * most + CLOSE

    def short(self) -> list[_Day]:
        """List short sessions for the first days, most reps first; a day of them is at most the work of the single session."""
        most = self.link.whole.reps // self.sessions
        counts = product(range(most, max(0, most - LEAST_SHORTER), -1), (0, -1, 1))
        counted = (Count(reps, max(1, side_goal(reps, least=1) + off)) for reps, off in counts)
        days = (self.day(self.sessions, count) for count in counted)
        return [day for day in days if self._fits(day, figures.FIRST_DAYS_WORK.value)]

    def fuller(self, short: _Day) -> list[_Day]:
        """List fuller short sessions that may follow, the best first (see `_sides_off`); no set grows by over half."""
        least, most = short.stage.reps, _grown_count(short.stage.reps, self.link.whole)
        counts = product(range(least.reps, most.reps + 1), range(least.side_reps, most.side_reps + 1))
        days = [self.day(FULLER_SESSIONS, Count(*count)) for count in counts]
        fitting = [day for day in days if _rises(day, short) and self._fits(day, figures.FIRST_WEEK_WORK.value)]
        return sorted(fitting, key=_sides_off)

    def choices(self) -> Iterator[list[_Day]]:
        """Yield every way to lay out the stages of this rung, the best first. Most rungs take one of the first, so a way is made when it is asked for."""
        yield from self._made
        for days in self._to_make:
            self._made.append(days)
            yield days

    def _stages(self, short: _Day, fuller: _Day) -> list[_Day]:
        growing = _growing(short.stage.reps, self.link.whole)
        return [short, fuller, *(self.day(1, count) for count in growing)]


def _sides_off(day: _Day) -> tuple[int, float]:
    """Return a sort key: sessions whose side reps are nearest to two thirds come first, then those with more work."""
    count = day.stage.reps
    return abs(count.side_reps - side_goal(count.reps, least=1)), -day.work_j


def _rises(day: _Day, below: _Day) -> bool:
    # At a smaller range palm reps make up more of the work. Where both the palm lift and the work at full range
    # rise, the work rises at every range.
    return day.lift >= below.lift - CLOSE and day.work_j >= below.work_j - CLOSE


def _follows(days: list[_Day], below: list[_Day] | None) -> bool:
    """Say whether each stage of a rung asks at least the work of the same stage on the rung below."""
    if below is None:
        return True
    longest = max(len(days), len(below))
    pairs = zip(_padded(days, longest), _padded(below, longest), strict=True)
    return all(_rises(day, lower) for day, lower in pairs)


def _padded(days: list[_Day], length: int) -> list[_Day]:
    return days + days[-1:] * (length - len(days))


def first_week(chain: Chain, sessions: int) -> list[tuple[Stage, ...]] | None:
    """Choose the stages of each rung, so that the work of each stage never falls from a rung to the rung above.

    Then neither a step down nor the end of the short sessions raises the work.

    Args:
        chain: The rungs.
        sessions: Short sessions a day in the first days, 2 or 3; a rung with a weight has at most 2.

    Returns:
        For each rung its stages, numbered from 1, equally many for every rung; None where no choice fits all rungs.
    """
    rungs = [_Rung(chain, link, sessions) for link in chain.links]
    dead: set[tuple[int, int]] = set()

    def lay(index: int, below: list[_Day] | None) -> list[list[_Day]] | None:
        if index == len(rungs):
            return []
        for number, days in enumerate(rungs[index].choices()):
            if (index, number) in dead or not _follows(days, below):
                continue
            above = lay(index + 1, days)
            if above is not None:
                return [days, *above]
            dead.add((index, number))
        return None

    laid = lay(0, None)
    if laid is None:
        return None
    longest = max(map(len, laid))
    return [tuple(day.stage for day in _padded(days, longest)) for days in laid]

"""The slow look at a course: what a practitioner should know of, and never a change of dose.

Each finding has an id (the key of its words), the days and numbers it rests on, and since when.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median

from webapp.dosing import figures
from webapp.dosing.course import DayAccount
from webapp.dosing.plan import Plan
from webapp.dosing.state import State

WEEK = 7


@dataclass(frozen=True)
class Case:
    """One arm's course up to a day.

    Attributes:
        plan: The plan it follows now.
        days: Every closed day, the oldest first.
        state: At the start of `today`.
        today: The first open day.
    """

    plan: Plan
    days: Sequence[DayAccount]
    state: State
    today: date


@dataclass(frozen=True)
class Finding:
    """One thing found.

    Attributes:
        id: Of the row in `FINDINGS`; what to consider is worded under it.
        since: The first day it rests on.
        evidence: (day, number) pairs; what the number is follows from the id.
        numbers: Further numbers the words need, by name.
    """

    id: str
    since: date
    evidence: tuple[tuple[date, float], ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Watch:
    """One row of the review: an id, what is looked for in plain words, the look, its basis, its limit."""

    id: str
    condition: str
    look: Callable[[Case, int], Finding | None]
    basis: str
    limit: int = 0


def _mornings(days: Sequence[DayAccount]) -> list[tuple[date, float]]:
    """Give (the morning's own day, pain) of each known morning."""
    after = timedelta(days=1)
    return [(day.on + after, day.facts.morning) for day in days if day.facts.morning is not None]


def _found(name: str, evidence: Sequence[tuple[date, float]], **numbers: float) -> Finding | None:
    if not evidence:
        return None
    return Finding(name, evidence[0][0], tuple(evidence), tuple(numbers.items()))


def _tail(days: Sequence[DayAccount], holds: Callable[[DayAccount], bool]) -> list[DayAccount]:
    """Give the run of last days that all hold."""
    run: list[DayAccount] = []
    for day in reversed(days):
        if not holds(day):
            break
        run.append(day)
    return run[::-1]


def _sharp(case: Case, _limit: int) -> Finding | None:
    held = _tail(case.days, lambda day: day.state_after.mode == "held")
    return _found("sharp", [(day.on, day.facts.during or 0) for day in held[:1]])


def _flared_twice(case: Case, limit: int) -> Finding | None:
    flared = [day for day in case.days[-WEEK:] if day.response == "flared" and day.state_before.mode == "training"]
    told = [(day.on, max(day.facts.during or 0, day.facts.morning or 0)) for day in flared]
    return _found("flared-twice", told) if len(told) >= limit else None


def _mornings_missing(case: Case, limit: int) -> Finding | None:
    run = _tail(case.days, lambda day: day.facts.sessions > 0 and day.facts.morning is None)
    return _found("mornings-missing", [(day.on, 0) for day in run]) if len(run) >= limit else None


def _idle(case: Case) -> list[tuple[date, float]]:
    run = _tail(case.days, lambda day: not day.facts.sessions and day.dose.mode == "training")
    return [(day.on, 0) for day in run]


def _no_session(case: Case, limit: int) -> Finding | None:
    idle = _idle(case)
    return _found("no-session", idle) if limit <= len(idle) < WEEK else None


def _silent(case: Case, limit: int) -> Finding | None:
    idle = _idle(case)
    return _found("silent", idle) if len(idle) >= limit else None


def _week_worse(case: Case, limit: int) -> Finding | None:
    now, before = _mornings(case.days[-WEEK:]), _mornings(case.days[-2 * WEEK : -WEEK])
    if min(len(now), len(before)) < limit:
        return None
    this, last = median(pain for _, pain in now), median(pain for _, pain in before)
    return _found("week-worse", now, this_week=this, week_before=last) if this > last else None


def _plateau(case: Case, limit: int) -> Finding | None:
    here = case.state.rung
    run = _tail(case.days, lambda day: day.state_before.rung == here and day.state_before.mode == "training")
    if len(run) < limit or here == case.plan.ladder.top:
        return None
    return Finding("plateau", run[0].on, (), (("rung", here), ("days", len(run))))


def _baseline(case: Case) -> float:
    first = [pain for _, pain in _mornings(case.days[:WEEK])]
    return max(case.plan.client.usual, median(first) if first else 0)


def _not_better(name: str) -> Callable[[Case, int], Finding | None]:
    def look(case: Case, limit: int) -> Finding | None:
        recent = _mornings(case.days[-WEEK:])
        began = _baseline(case)
        if len(case.days) < limit or not recent or began < figures.IMPORTANT_POINTS.value:
            return None
        now = median(pain for _, pain in recent)
        better = began - now >= figures.IMPORTANT_POINTS.value or began - now >= figures.IMPORTANT_SHARE.value * began
        return None if better else _found(name, recent, began_at=began, now_at=now)

    return look


def _usual_lower(case: Case, limit: int) -> Finding | None:
    recent = _mornings(case.days[-2 * WEEK :])
    if len(recent) < limit:
        return None
    now = median(pain for _, pain in recent)
    usual = case.plan.client.usual
    return _found("usual-lower", recent, usual=usual, could_be=now) if now <= usual - 1 else None


def _goal_settled(case: Case, limit: int) -> Finding | None:
    top = case.plan.ladder.top
    run = _tail(case.days, lambda day: day.state_before.rung == top and not day.state_before.ease
                and day.response == "settled")  # fmt: skip
    return _found("goal-settled", [(day.on, day.facts.morning or 0) for day in run]) if len(run) >= limit else None


def _peak(case: Case, _limit: int) -> Finding | None:
    rung = case.plan.ladder.rung(case.state.rung)
    if rung.share <= figures.WARN_SHARE_OF_MAXIMUM.value:
        return None
    return Finding("peak", case.today, (), (("share", rung.share), ("load_kg", rung.load_kg)))


def _jump_ahead(case: Case, limit: int) -> Finding | None:
    ladder = case.plan.ladder
    for jump in ladder.jumps:
        below = max(rung.number for rung in ladder.rungs if rung.load_kg <= jump.from_kg)
        if not jump.accepted and below - case.state.rung <= limit:
            told = (("from_kg", jump.from_kg), ("to_kg", jump.to_kg), ("bridge_low_kg", jump.bridge_kg[0]),
                    ("bridge_high_kg", jump.bridge_kg[1]))  # fmt: skip
            return Finding("jump-ahead", case.today, (), told)
    return None


def _sore_long(case: Case, limit: int) -> Finding | None:
    calm = max(figures.SETTLED_MORNING.value, case.plan.client.usual)
    sore: list[tuple[date, float]] = []
    for on, pain in reversed(_mornings(case.days)):
        if pain <= calm:
            break
        sore.append((on, pain))
    long = sore and (case.today - sore[-1][0]).days > limit and (case.today - sore[0][0]).days <= WEEK
    return _found("sore-long", sore[::-1]) if long else None


FINDINGS: tuple[Watch, ...] = (
    Watch("sharp", "sharp pain or a warning sign, and the hold is on", _sharp, "common-practice"),
    Watch("flared-twice", "flared this often in seven days", _flared_twice, "silbernagel-2007", 2),
    Watch("silent", "no session this many days in a row", _silent, "common-practice", 7),
    Watch("no-session", "no session this many days in a row", _no_session, "common-practice", 3),
    Watch("mornings-missing", "sessions without a morning report this many days in a row",
          _mornings_missing, "own-choice", 3),
    Watch("week-worse", "weekly median above the week before, from this many mornings in each",
          _week_worse, "silbernagel-2007", 3),
    Watch("sore-long", "mornings over the settled ceiling for more days than this", _sore_long, "doms-2003", 7),
    Watch("not-better-6-weeks", "not better by 2 points or 30 % after this many days",
          _not_better("not-better-6-weeks"), "finestone-2008", 42),
    Watch("not-better-4-weeks", "not better by 2 points or 30 % after this many days",
          _not_better("not-better-4-weeks"), "farrar-2001", 28),
    Watch("plateau", "this many days at one rung", _plateau, "own-choice", 14),
    Watch("usual-lower", "median of two weeks a point or more under the usual, from this many mornings",
          _usual_lower, "own-choice", 7),
    Watch("goal-settled", "the goal reached and this many settled days there", _goal_settled, "common-practice", 7),
    Watch("peak", "peak moment over the share of the estimated maximum that is warned of", _peak, "delp-1996"),
    Watch("jump-ahead", "an unbridged jump within this many rungs", _jump_ahead, "acsm-2009", 2),
)  # fmt: skip


def review(case: Case, watches: Sequence[Watch] = FINDINGS) -> Iterator[Finding]:
    """Go through the table and give what is found, in its order; the same case gives the same findings.

    The later referral finding stands in for the earlier one.
    """
    found = [finding for watch in watches if (finding := watch.look(case, watch.limit))]
    late = any(finding.id == "not-better-6-weeks" for finding in found)
    yield from (finding for finding in found if not (late and finding.id == "not-better-4-weeks"))

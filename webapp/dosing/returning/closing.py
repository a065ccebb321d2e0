"""Closing a day on a return ladder: from the place at its start, the sport and how it felt, to the place of the next day."""

from typing import NamedTuple

from webapp.dosing.returning import rules
from webapp.dosing.returning.go import (
    AWAY,
    FLARE_DAYS,
    LATELY_DAYS,
    OPEN,
    STEP_DAYS,
    STOPPED,
    WAITING,
    Go,
    ReturnLadder,
    ReturnState,
    may_go,
    step_today,
)

_BITS = (1 << LATELY_DAYS) - 1
MOST_AWAY = rules.ABSENCES[-1].days


class SportDay(NamedTuple):
    """What a day was for the ladder.

    Attributes:
        minutes: Minutes of sport, or None without any.
        feel: How it felt, of `rules.FEELS`.
        is_before: Whether it lies before the first day.
        amount: What the client said of the sport beside its step: fewer, asked, more.
        strokes: The strokes that were counted, or None.
    """

    minutes: int | None
    feel: str
    is_before: bool = False
    amount: str = "asked"
    strokes: int | None = None


class GoClosed(NamedTuple):
    """How a go closed: the go that follows, what becomes of the step, and the id of the rule."""

    go: Go
    move: str
    rule: str


class ReturnClosed(NamedTuple):
    """How a day closed: the next day's place, what the sport counted as (of `rules.OUTINGS`), and the ids of the rules."""

    state: ReturnState
    outing: str
    reasons: tuple[str, ...]


def outing_of(ladder: ReturnLadder, state: ReturnState, day: SportDay, *, is_clear: bool) -> str:
    """Return what a day's sport counts as, of `rules.OUTINGS`."""
    if day.is_before:
        return rules.BEFORE
    if day.minutes is None:
        return rules.NO_SPORT
    if not may_go(ladder, state, is_clear=is_clear):
        return rules.UNCOUNTED
    step = step_today(ladder, state, is_clear=is_clear)
    wanted = ladder.at(step)
    is_more = day.minutes > wanted.minutes or (wanted.most_strokes and (day.strokes or 0) > wanted.most_strokes)
    if is_more or day.amount == "more":
        return rules.UNCOUNTED
    if day.minutes < wanted.least_minutes or day.amount == "fewer":
        return rules.FEWER
    return rules.STEPPED_UP if step > state.step else rules.COUNTED


def close_go(go: Go, outing: str, feel: str, *, is_again: bool) -> GoClosed:
    """Close a day of one go; the step itself is not looked at.

    Args:
        go: The go at the start of the day.
        outing: What the sport counted as, of `rules.OUTINGS`.
        feel: How it felt, of `rules.FEELS`.
        is_again: Whether an earlier flare still counts.

    Raises:
        LookupError: No rule decides the day.
    """
    now = Go() if outing == rules.STEPPED_UP and go.mode == OPEN else go
    is_counted = now.mode in (OPEN, WAITING) and outing != rules.BEFORE
    counted = now._replace(days=min(STEP_DAYS, now.days + 1)) if is_counted else now
    for rule in rules.RETURN_RULES:
        if (
            now.mode in rule.modes
            and outing in rule.outings
            and feel in rule.feels
            and rule.holds(counted, is_again, rule.limit)
        ):
            return GoClosed(rule.then(counted), rule.move, rule.id)
    raise LookupError(go, outing, feel)


def away_from(go: Go, absence: rules.Absence) -> Go:
    """Return a go after an absence: what was settled counts anew, or the ladder ends."""
    return Go(AWAY) if absence.ends else go._replace(settled=0, days=0)


def close_sport_day(ladder: ReturnLadder, state: ReturnState, day: SportDay, *, is_clear: bool) -> ReturnClosed:
    """Close a day on a ladder.

    Args:
        ladder: The ladder.
        state: The place at the start of the day.
        day: The day's sport, and how it felt.
        is_clear: Whether the exercises raised nothing within the 72 hours before the day.
    """
    outing = outing_of(ladder, state, day, is_clear=is_clear)
    closed = close_go(state.go, outing, day.feel, is_again=state.flare > 0)
    step = rules.MOVES[closed.move](state.step + (outing == rules.STEPPED_UP))
    has_sport = day.minutes is not None
    flare = FLARE_DAYS if day.feel in rules.FLARES else max(0, state.flare - 1)
    away = 0 if has_sport or day.is_before else min(MOST_AWAY, state.away + 1)
    after = ReturnState(step, closed.go, (state.lately << 1 | has_sport) & _BITS, away, flare)
    return _after_absence(ReturnClosed(after, outing, (closed.rule,)), before=state)


def _after_absence(closed: ReturnClosed, before: ReturnState) -> ReturnClosed:
    """Apply the rule of an absence on the day on which its days are reached."""
    state, outing, reasons = closed
    absence = next((each for each in rules.ABSENCES if before.away < each.days == state.away), None)
    if absence is None or state.go.mode in (STOPPED, AWAY):
        return closed
    moved = state._replace(step=rules.MOVES[absence.move](state.step), go=away_from(state.go, absence))
    return ReturnClosed(moved, outing, (*reasons, absence.id))

"""The gate of a way back: what must be true of the exercises before sport begins. The practitioner looks at the rest, and ticks it."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import ClosedDay, DayFacts, response_so_far
from webapp.dosing.dose import Dose
from webapp.dosing.plan import Plan
from webapp.dosing.responses import calm_limit
from webapp.dosing.returning.go import APART_DAYS
from webapp.dosing.state import State

NO_SHARP_DAYS = int(figures.GATE_SHARP_DAYS.value)
NO_FLARE_DAYS = int(figures.GATE_FLARE_DAYS.value)
MORNINGS = int(figures.GATE_MORNINGS.value)
_MOST_IN_SESSION = int(figures.GATE_SESSION_RATING.value)
_LEAST_KG, _LEAST_REPS = figures.GATE_LOAD.value, figures.GATE_REPS.value
_PALMS = ("palm_up", "palm_down")
NO_FLARE, CALM_MORNINGS, SESSIONS, NOT_TOO_SOON = "no_flare", "mornings", "sessions", "not_too_soon"
_ONE_DAY = timedelta(days=1)


class GateArm(NamedTuple):
    """One arm before the gate: its plan, its closed days, the facts by day, its state and dose today, and when its dose was last raised."""

    plan: Plan
    days: Sequence[ClosedDay]
    facts: Mapping[date, DayFacts]
    state: State
    dose: Dose
    raised_on: date | None


class GatePoint(NamedTuple):
    """One point that the log decides: whether it is met, and the numbers that it was met by, by name."""

    id: str
    is_met: bool
    evidence: Mapping[str, object]


def gate_points(arms: Iterable[GateArm], today: date) -> tuple[GatePoint, ...]:
    """Work out the points of the gate that the log decides; each must be met by every arm.

    Args:
        arms: Every arm of the routine.
        today: The day; of its own report only a flare or a stop counts.
    """
    known = tuple(arms)
    return (_no_flare(known, today), _mornings(known, today), _sessions(known, today), _not_too_soon(known, today))


def _last(arms: Sequence[GateArm], today: date, responses: Sequence[str]) -> date | None:
    closed = [day.on for arm in arms for day in arm.days if day.response in responses]
    now = [today for arm in arms if response_so_far(arm.plan, arm.state, arm.facts, today) in responses]
    return max(closed + now, default=None)


def _no_flare(arms: Sequence[GateArm], today: date) -> GatePoint:
    sharp_on, flared_on = _last(arms, today, ("sharp",)), _last(arms, today, ("flared", "flared_idle"))
    is_held = any(arm.state.mode == "held" for arm in arms)
    is_long = (sharp_on is None or (today - sharp_on).days > NO_SHARP_DAYS) and (
        flared_on is None or (today - flared_on).days > NO_FLARE_DAYS
    )
    return GatePoint(NO_FLARE, bool(arms) and is_long and not is_held, {"sharp_on": sharp_on, "flared_on": flared_on})


def _last_days(arm: GateArm, today: date, days: int) -> list[DayFacts]:
    return [arm.facts.get(today - number * _ONE_DAY, DayFacts()) for number in range(1, days + 1)]


def _mornings(arms: Sequence[GateArm], today: date) -> GatePoint:
    mornings = [(arm, facts.morning) for arm in arms for facts in _last_days(arm, today, MORNINGS)]
    rated = [morning for _, morning in mornings if morning is not None]
    is_calm = all(morning is not None and morning <= calm_limit(arm.plan.client.usual) for arm, morning in mornings)
    days = len(rated) // max(1, len(arms))
    return GatePoint(CALM_MORNINGS, bool(mornings) and is_calm, {"known": days, "highest": max(rated, default=None)})


def _sessions(arms: Sequence[GateArm], today: date) -> GatePoint:
    rated = [
        facts.during
        for arm in arms
        for facts in _last_days(arm, today, MORNINGS)
        if facts.sessions and facts.during is not None
    ]
    highest = max(rated, default=None)
    is_strong = bool(arms) and all(arm.state.ease == 0 and _is_strong(arm) for arm in arms)
    is_met = highest is not None and highest <= _MOST_IN_SESSION and is_strong
    loads = [each for arm in arms for each in arm.dose.sets if each.movement in _PALMS]
    least = min(loads, key=lambda each: (each.load_kg, each.reps), default=None)
    kg, reps = (least.load_kg, least.reps) if least else (None, None)
    return GatePoint(SESSIONS, is_met, {"highest": highest, "kg": kg, "reps": reps})


def _is_strong(arm: GateArm) -> bool:
    palms = [each for each in arm.dose.sets if each.movement in _PALMS]
    is_enough = bool(palms) and all(each.load_kg >= _LEAST_KG and each.reps >= _LEAST_REPS for each in palms)
    return is_enough or arm.plan.is_top(arm.state)


def _not_too_soon(arms: Sequence[GateArm], today: date) -> GatePoint:
    raised_on = max((arm.raised_on for arm in arms if arm.raised_on), default=None)
    is_first_week = any(arm.state.first_week_day for arm in arms)
    is_clear = raised_on is None or (today - raised_on).days >= APART_DAYS
    return GatePoint(
        NOT_TOO_SOON,
        bool(arms) and is_clear and not is_first_week,
        {"raised_on": raised_on, "first_week": is_first_week},
    )

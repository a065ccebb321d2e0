"""Findings that speak of an arm that is doing badly: sharp pain, flares, rest and soreness that last."""

from webapp.dosing.course import DayAccount, is_sharp
from webapp.dosing.findings.case import WEEK, Case, Finding, found, mornings, tail
from webapp.dosing.responses import IDLE, calm_limit
from webapp.dosing.state import MOST_EASE

REST_TO_HOLD = "rest-to-hold"
TENDER = ("tender", "tender_over", "sore")
NEITHER = ("partly", "unreported", "aching_untold", "missed")
FLARED = ("flared", "flared_idle")


def _held(case: Case) -> list[DayAccount]:
    """Return the days since the hold came; its first is the day that brought it."""
    return tail(case.days, lambda day: day.state_after.mode == "held") if case.state.mode == "held" else []


def sharp(case: Case, _limit: int) -> Finding | None:
    """Find a hold that a sharp day or a warning sign brought, and one that today itself brings.

    Once a release of all of it is on record there is nothing left to find, even where it counts only from a later day.
    """
    if case.released_from is not None:
        return None
    held = _held(case)
    if held and REST_TO_HOLD not in held[0].reasons:
        return found("sharp", [(held[0].on, 0)], days=(case.today - held[0].on).days)
    if is_sharp(case.today_facts) or (case.state.mode == "held" and not held):
        return found("sharp", [(case.today, 0)], days=0)
    return None


def held_after_rest(case: Case, _limit: int) -> Finding | None:
    """Find a hold that came after a week of rest."""
    held = _held(case)
    if not held or REST_TO_HOLD not in held[0].reasons:
        return None
    return found("held-after-rest", [(held[0].on, 0)], days=(case.today - held[0].on).days)


def flared_twice(case: Case, limit: int) -> Finding | None:
    """Find flares close together; a flare that goes on through a rest is the same one."""
    flared = [day for day in case.days[-WEEK:] if day.response in FLARED and day.state_before.mode == "training"]
    told = [(day.on, max(day.facts.during or 0, day.facts.morning or 0)) for day in flared]
    return found("flared-twice", told) if len(told) >= limit else None


def rest_long(case: Case, limit: int) -> Finding | None:
    """Find a rest that goes on: today is its third day or a later one."""
    if case.state.mode != "resting" or case.state.rest_days < limit:
        return None
    rested = case.days[-case.state.rest_days :]
    return found("rest-long", [(day.on, day.facts.morning or 0) for day in rested], days=case.state.rest_days)


def tender_at_half(case: Case, limit: int) -> Finding | None:
    """Find tender days at half range that the range can no longer answer."""
    run = tail(
        case.days,
        lambda day: (
            day.state_before.ease == MOST_EASE
            and day.state_before.mode == "training"
            and day.response in (*TENDER, *NEITHER)
        ),
    )
    told = [(day.on, day.facts.morning or 0) for day in run if day.response in TENDER]
    if len(told) <= limit or case.state.ease != MOST_EASE:
        return None
    return found("tender-at-half", told)


def floor(case: Case, limit: int) -> Finding | None:
    """Find an arm that stands at the bottom, with nothing left to ease."""
    if case.state.mode == "held" or (case.state.rung, case.state.ease) != (1, MOST_EASE):
        return None
    run = tail(case.days, lambda day: (day.state_before.rung, day.state_before.ease) == (1, MOST_EASE))
    return found("floor", [(day.on, 0) for day in run], days=len(run)) if len(run) >= limit else None


def sore_long(case: Case, limit: int) -> Finding | None:
    """Find mornings over the calm limit on end, for longer than soreness after exercise usually lasts."""
    calm = calm_limit(case.plan.client.usual)
    told = mornings(case.days)
    calm_at = max((place for place, (_, pain) in enumerate(told) if pain <= calm), default=-1)
    run = told[calm_at + 1 :]
    is_long = run and (case.today - run[0][0]).days > limit and (case.today - run[-1][0]).days <= WEEK
    return found("sore-long", run) if is_long else None


def _without_session(case: Case) -> list[DayAccount]:
    """Return the days in a row without a session, rest days included, as the rule of the gap counts them."""
    run = tail(case.days, lambda day: day.response in IDLE and day.state_before.mode != "held")
    # Where every one of them was rest, nobody left anything out.
    return run if case.state.mode != "held" and any(day.dose.mode == "training" for day in run) else []


def no_session(case: Case, limit: int) -> Finding | None:
    """Find days without a session, fewer than a week."""
    run = _without_session(case)
    return found("no-session", [(day.on, 0) for day in run]) if limit <= len(run) < WEEK else None


def silent(case: Case, limit: int) -> Finding | None:
    """Find a week and more without a session."""
    run = _without_session(case)
    return found("silent", [(day.on, 0) for day in run]) if len(run) >= limit else None

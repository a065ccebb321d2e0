"""Findings about an arm that is doing badly: sharp pain, flares, and rest or soreness that lasts."""

from webapp.dosing.course import ClosedDay, is_sharp
from webapp.dosing.findings.case import WEEK, Case, Finding, found, mornings, tail
from webapp.dosing.responses import IDLE, calm_limit
from webapp.dosing.state import MOST_EASE

REST_TO_HOLD = "rest-to-hold"
TENDER = ("tender", "tender_over", "sore")
NEITHER = ("partly", "unreported", "aching_untold", "missed")
FLARED = ("flared", "flared_idle")


def _held(case: Case) -> list[ClosedDay]:
    """Return the days of the present hold, from the day that caused it; empty where the arm is not held."""
    return tail(case.days, lambda day: day.state_after.mode == "held") if case.state.mode == "held" else []


def sharp(case: Case, _limit: int) -> Finding | None:
    """Find a hold that a sharp day or a warning sign caused, today's included.

    Nothing is found once a release is on record that covers it all, even where the release counts from a later day.
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
    """Find flares close together; a flare on a day of rest belongs to the flare that caused the rest."""
    flared = [day for day in case.days[-WEEK:] if day.response in FLARED and day.state_before.mode == "training"]
    pains = [(day.on, max(day.facts.during or 0, day.facts.morning or 0)) for day in flared]
    return found("flared-twice", pains) if len(pains) >= limit else None


def rest_long(case: Case, limit: int) -> Finding | None:
    """Find a rest that goes on: today is its third day or a later one."""
    if case.state.mode != "resting" or case.state.rest_days < limit:
        return None
    rested = case.days[-case.state.rest_days :]
    return found("rest-long", [(day.on, day.facts.morning or 0) for day in rested], days=case.state.rest_days)


def tender_at_half(case: Case, limit: int) -> Finding | None:
    """Find tender days at half range, where the range cannot be eased any further."""
    run = tail(
        case.days,
        lambda day: (
            day.state_before.ease == MOST_EASE
            and day.state_before.mode == "training"
            and day.response in (*TENDER, *NEITHER)
        ),
    )
    pains = [(day.on, day.facts.morning or 0) for day in run if day.response in TENDER]
    if len(pains) <= limit or case.state.ease != MOST_EASE:
        return None
    return found("tender-at-half", pains)


def floor(case: Case, limit: int) -> Finding | None:
    """Find an arm that stays on the lowest rung at half range, where nothing is left to ease."""
    if case.state.mode == "held" or (case.state.rung, case.state.ease) != (1, MOST_EASE):
        return None
    run = tail(case.days, lambda day: (day.state_before.rung, day.state_before.ease) == (1, MOST_EASE))
    return found("floor", [(day.on, 0) for day in run], days=len(run)) if len(run) >= limit else None


def sore_long(case: Case, limit: int) -> Finding | None:
    """Find an unbroken run of mornings over the calm limit, longer than soreness after exercise usually lasts."""
    calm = calm_limit(case.plan.client.usual)
    pains = mornings(case.days)
    calm_at = max((number for number, (_, pain) in enumerate(pains) if pain <= calm), default=-1)
    run = pains[calm_at + 1 :]
    is_long = run and (case.today - run[0][0]).days > limit and (case.today - run[-1][0]).days <= WEEK
    return found("sore-long", run) if is_long else None


def _without_session(case: Case) -> list[ClosedDay]:
    """Return the days in a row without a session, rest days included, as the rule of the gap counts them."""
    run = tail(case.days, lambda day: day.response in IDLE and day.state_before.mode != "held")
    # Where all of these days were rest, the client missed nothing.
    return run if case.state.mode != "held" and any(day.dose.mode == "training" for day in run) else []


def no_session(case: Case, limit: int) -> Finding | None:
    """Find days without a session, fewer than a week."""
    run = _without_session(case)
    return found("no-session", [(day.on, 0) for day in run]) if limit <= len(run) < WEEK else None


def silent(case: Case, limit: int) -> Finding | None:
    """Find a week and more without a session."""
    run = _without_session(case)
    return found("silent", [(day.on, 0) for day in run]) if len(run) >= limit else None

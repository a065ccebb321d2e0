"""Findings about an arm that is doing badly: sharp pain, flares, and rest or soreness that lasts."""

from webapp.dosing.course import ClosedDay, is_sharp
from webapp.dosing.findings.arm_course import WEEK, ArmCourse, Finding, found, mornings, tail
from webapp.dosing.responses import IDLE, calm_limit
from webapp.dosing.state import MOST_EASE

REST_TO_HOLD = "rest-to-hold"
TENDER = ("tender", "tender_over", "sore")
NEITHER = ("partly", "unreported", "aching_untold", "missed")
FLARED = ("flared", "flared_idle")


def _held(course: ArmCourse) -> list[ClosedDay]:
    """Return the days of the present hold, from the day that caused it; empty where the arm is not held."""
    return tail(course.days, lambda day: day.state_after.mode == "held") if course.state.mode == "held" else []


def sharp(course: ArmCourse, _limit: int) -> Finding | None:
    """Find a hold that a sharp day or a warning sign caused, today's included.

    Nothing is found once a release is on record that covers it all, even where the release counts from a later day.
    """
    if course.released_from is not None:
        return None
    held = _held(course)
    if held and REST_TO_HOLD not in held[0].reasons:
        return found("sharp", [(held[0].on, 0)], days=(course.today - held[0].on).days)
    if is_sharp(course.today_facts) or (course.state.mode == "held" and not held):
        return found("sharp", [(course.today, 0)], days=0)
    return None


def held_after_rest(course: ArmCourse, _limit: int) -> Finding | None:
    """Find a hold that came after a week of rest."""
    held = _held(course)
    if not held or REST_TO_HOLD not in held[0].reasons:
        return None
    return found("held-after-rest", [(held[0].on, 0)], days=(course.today - held[0].on).days)


def flared_twice(course: ArmCourse, limit: int) -> Finding | None:
    """Find flares close together; a flare on a day of rest belongs to the flare that caused the rest."""
    flared = [day for day in course.days[-WEEK:] if day.response in FLARED and day.state_before.mode == "training"]
    pains = [(day.on, max(day.facts.during or 0, day.facts.morning or 0)) for day in flared]
    return found("flared-twice", pains) if len(pains) >= limit else None


def rest_long(course: ArmCourse, limit: int) -> Finding | None:
    """Find a rest that goes on: today is its third day or a later one."""
    if course.state.mode != "resting" or course.state.rest_days < limit:
        return None
    rested = course.days[-course.state.rest_days :]
    return found("rest-long", [(day.on, day.facts.morning or 0) for day in rested], days=course.state.rest_days)


def tender_at_half(course: ArmCourse, limit: int) -> Finding | None:
    """Find tender days at half range, where the range cannot be eased any further."""
    run = tail(
        course.days,
        lambda day: (
            day.state_before.ease == MOST_EASE
            and day.state_before.mode == "training"
            and day.response in (*TENDER, *NEITHER)
        ),
    )
    pains = [(day.on, day.facts.morning or 0) for day in run if day.response in TENDER]
    if len(pains) <= limit or course.state.ease != MOST_EASE:
        return None
    return found("tender-at-half", pains)


def floor(course: ArmCourse, limit: int) -> Finding | None:
    """Find an arm that stays on the lowest rung at half range, where nothing is left to ease."""
    if course.state.mode == "held" or (course.state.rung, course.state.ease) != (1, MOST_EASE):
        return None
    run = tail(course.days, lambda day: (day.state_before.rung, day.state_before.ease) == (1, MOST_EASE))
    return found("floor", [(day.on, 0) for day in run], days=len(run)) if len(run) >= limit else None


def sore_long(course: ArmCourse, limit: int) -> Finding | None:
    """Find an unbroken run of mornings over the calm limit, longer than soreness after exercise usually lasts."""
    calm = calm_limit(course.plan.client.usual)
    pains = mornings(course.days)
    calm_at = max((number for number, (_, pain) in enumerate(pains) if pain <= calm), default=-1)
    run = pains[calm_at + 1 :]
    is_long = run and (course.today - run[0][0]).days > limit and (course.today - run[-1][0]).days <= WEEK
    return found("sore-long", run) if is_long else None


def _without_session(course: ArmCourse) -> list[ClosedDay]:
    """Return the days in a row without a session, rest days included, as the rule of the gap counts them."""
    run = tail(course.days, lambda day: day.response in IDLE and day.state_before.mode != "held")
    # Where all of these days were rest, the client missed nothing.
    return run if course.state.mode != "held" and any(day.dose.mode == "training" for day in run) else []


def no_session(course: ArmCourse, limit: int) -> Finding | None:
    """Find days without a session, fewer than a week."""
    run = _without_session(course)
    return found("no-session", [(day.on, 0) for day in run]) if limit <= len(run) < WEEK else None


def silent(course: ArmCourse, limit: int) -> Finding | None:
    """Find a week and more without a session."""
    run = _without_session(course)
    return found("silent", [(day.on, 0) for day in run]) if len(run) >= limit else None

"""The invented client and routine that serve as the rule book's example. Every setting is at its default."""

from webapp.dosing.closing import close_day
from webapp.dosing.figures import POUND
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Body, Client, Routine
from webapp.dosing.state import State

AREA = "outer_elbow"
BODY = Body(70, 1.75)
MOST_POUNDS = 5
USUAL = 2
LONGEST_COURSE_DAYS = 1000


def example_weights() -> tuple[dict[str, object], ...]:
    """Return the weights at home as they would be entered, in pounds."""
    return tuple({"value": pounds, "unit": "lb"} for pounds in range(MOST_POUNDS + 1))


def example_plan() -> Plan:
    """Return the plan of an adult with every weight from nothing to five pounds."""
    weights = tuple(POUND.value * pounds for pounds in range(MOST_POUNDS + 1))
    return make_plan(Routine("", AREA), Client(BODY, weights_kg=weights, usual=USUAL))


def settled_course(plan: Plan, state: State) -> list[State]:
    """Return the state at the start of each day while every day is settled, up to the first day that changes nothing."""
    course = [state]
    while len(course) < LONGEST_COURSE_DAYS:
        after = close_day(plan, course[-1], "settled").state
        if after == course[-1]:
            break
        course.append(after)
    return course

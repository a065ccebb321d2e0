"""Why an arm does not climb: the main cause of ten or more days without a climb below the goal.

Every such arm has a cause. A hold and a week without a session have findings of their own.
"""

from collections import Counter
from collections.abc import Callable, Sequence

from webapp.dosing.course import ClosedDay
from webapp.dosing.findings import numbers
from webapp.dosing.findings.arm_course import (
    FORTNIGHT,
    ArmCourse,
    Finding,
    is_below_goal,
    open_jump,
)
from webapp.dosing.findings.rungs import jump_numbers

CAUSE_OF = {
    "settled": "settled",
    "partly": "done-in-part",
    "unreported": "not-rated",
    "aching": "aching",
    "aching_untold": "aching",
    "tender": "tender",
    "tender_over": "tender",
    "sore": "tender",
    "flared": "resting",
    "flared_idle": "resting",
    "missed": "away",
    "sharp": "resting",
}
"""For each response: `settled`, or the hindrance that it counts for."""
HINDRANCES = ("resting", "away", "tender", "aching", "not-rated", "done-in-part")
"""In the order in which they are named where several are equally frequent."""
NO_CAUSE = "plateau"


def hindrance_on(day: ClosedDay) -> str:
    """Return what a day counts as: `settled`, or one of `HINDRANCES`."""
    return "resting" if day.state_before.mode == "resting" else CAUSE_OF[day.response]


def _looked_at(run: Sequence[ClosedDay]) -> list[ClosedDay]:
    """Return the last fortnight of a run of days; days up to the last hold are left out."""
    days = run[-FORTNIGHT:]
    last_held = max((number for number, day in enumerate(days) if day.state_after.mode == "held"), default=-1)
    return list(days[last_held + 1 :])


def _structural(course: ArmCourse) -> str | None:
    """Return the cause that more settled days would not change, or None."""
    if course.plan.is_top(course.state) and open_jump(course.plan) is not None:
        return "jump"
    return "by-hand" if course.plan.climbs_by_hand else None


def main_cause(course: ArmCourse, days: Sequence[ClosedDay]) -> str:
    """Return the main cause of a standstill from the days looked at."""
    counts = Counter(map(hindrance_on, days))
    hindrance = max(HINDRANCES, key=lambda name: counts[name])
    if counts[hindrance] > counts["settled"]:
        return hindrance
    return _structural(course) or (hindrance if counts[hindrance] > numbers.FEW_DAYS.value else NO_CAUSE)


def cause(name: str) -> Callable[[ArmCourse, int], Finding | None]:
    """Return the check for one cause of `limit` days without a climb."""

    def look(course: ArmCourse, limit: int) -> Finding | None:
        run = course.days_without_climb
        if len(run) < limit or course.state.mode == "held" or not is_below_goal(course):
            return None
        days = _looked_at(run)
        if main_cause(course, days) != name:
            return None
        counts = Counter(map(hindrance_on, days))
        tally = tuple((f"count-{kind}", float(counts[kind])) for kind in ("settled", *HINDRANCES) if counts[kind])
        evidence = tuple((day.on, 0.0) for day in days if hindrance_on(day) == name)
        agreed = (("usual", course.plan.client.usual), ("ceiling", course.plan.tuning.settled_during))
        sizes = (("days", len(run)), ("rung", course.state.rung), ("of", len(days)), *agreed, *tally)
        jump = jump_numbers(course) if name == "jump" else ()
        return Finding(name, run[0].on, evidence, (*sizes, *jump))

    return look

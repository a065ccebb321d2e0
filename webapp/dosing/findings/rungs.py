"""Findings about the ladder: its goal, the peak moment, and a jump that comes near."""

from webapp.dosing import figures
from webapp.dosing.findings.arm_course import ArmCourse, Finding, found, open_jump, tail
from webapp.dosing.ladder import bridge_for


def goal_settled(course: ArmCourse, limit: int) -> Finding | None:
    """Find settled days at the goal; a ladder that ends below a jump has not reached it."""
    top = course.plan.ladder.top
    run = tail(
        course.days,
        lambda day: day.state_before.rung == top and not day.state_before.ease and day.response == "settled",
    )
    if len(run) < limit or open_jump(course.plan) is not None or course.state.rung != top:
        return None
    return found("goal-settled", [(day.on, day.facts.morning or 0) for day in run])


def peak(course: ArmCourse, _limit: int) -> Finding | None:
    """Find a peak moment over the share of the estimated maximum that is warned of."""
    rung = course.plan.ladder.rung(course.state.rung)
    if rung.share <= figures.WARN_SHARE_OF_MAXIMUM.value:
        return None
    return Finding("peak", course.today, (), (("share", rung.share), ("load_kg", rung.load_kg)))


def jump_numbers(course: ArmCourse) -> tuple[tuple[str, float], ...]:
    """Return both weights of the jump below which the ladder ends, and the range of weights that bridge it, if any."""
    jump, plan = open_jump(course.plan), course.plan
    if jump is None:
        return ()
    key = ("bridge", jump)
    if key not in plan.worked_out:
        plan.worked_out[key] = bridge_for(plan.routine, plan.client, jump)
    bridge = plan.worked_out[key]
    between = (("bridge_low_kg", bridge.low_kg), ("bridge_high_kg", bridge.high_kg)) if bridge else ()
    return (("from_kg", jump.from_kg), ("to_kg", jump.to_kg), *between)


def jump_ahead(course: ArmCourse, limit: int) -> Finding | None:
    """Find a jump that was not accepted within so many rungs; the ladder ends below it."""
    if open_jump(course.plan) is None or course.plan.ladder.top - course.state.rung > limit:
        return None
    return Finding("jump-ahead", course.today, (), jump_numbers(course))

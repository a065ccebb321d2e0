"""The ladder and its jumps: what is said of a jump comes from the very condition that refused it."""

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.amount import drawn
from tests.dosing.spread import MAN, POUND_KG, fixed_plans, plan_for, plans
from webapp.dosing import figures
from webapp.dosing.chain import BRIDGE_STEP_KG
from webapp.dosing.count import Count, session_work_j, side_goal
from webapp.dosing.first_week import grown
from webapp.dosing.ladder import bridge_for

ALMOST = 1 + 1e-9
ANY_PLAN = settings(
    max_examples=drawn(20, 150),
    deadline=None,
    derandomize=True,
    phases=(Phase.generate,),
    suppress_health_check=list(HealthCheck),
)


def with_weight(plan, kg):
    tuning = {name: getattr(plan.tuning, name) for name in plan.tuning.__dataclass_fields__}
    return plan_for(plan.client.body, sorted({*plan.client.weights_kg, kg}), plan.client.usual, **tuning)


def check_reps_never_pass_the_goal(plan):
    assert all(rung.count.reps <= plan.tuning.goal_reps for rung in plan.ladder.rungs)
    assert all(rung.count.reps >= plan.tuning.low_reps for rung in plan.ladder.rungs)


def check_the_first_week_keeps_its_bounds(plan):
    most = {1: figures.FIRST_DAYS_WORK.value, 2: figures.FIRST_WEEK_WORK.value}
    for rung in plan.ladder.rungs:
        for number, stage in enumerate(rung.stages, start=1):
            assert stage.work_j <= rung.work_j * most.get(number, 1.0) * ALMOST, (rung, number)
            assert stage.sessions == (2 if number == 2 else 1 if number > 2 else stage.sessions)
            # Three sessions a day only without a weight.
            assert stage.sessions <= (2 if rung.load_kg else 3)
        for before, after in _next_stages(rung):
            assert after.reps.reps <= grown(before.reps.reps), rung
            assert after.reps.side_reps <= grown(before.reps.side_reps), rung
        assert not rung.stages or rung.stages[-1].reps == rung.count


def _next_stages(rung):
    """The pairs of stages that can follow each other: short to fuller, short to the first single one, and on."""
    stages = rung.stages
    if stages:
        yield stages[0], stages[1]
        yield stages[0], stages[2]
        yield from pairwise(stages[2:])


CHECKS = (check_reps_never_pass_the_goal, check_the_first_week_keeps_its_bounds)


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("plan", fixed_plans(), ids=range(len(fixed_plans())))
def test_on_plans_with_odd_corners(check, plan):
    check(plan)


@pytest.mark.drawn
@pytest.mark.parametrize("check", CHECKS)
@ANY_PLAN
@given(plan=plans())
def test_on_any_plan(check, plan):
    check(plan)


def test_a_set_grows_by_half_or_by_a_rep():
    # Soreness peaks only after 24 to 72 hours (Cheung 2003, seen second-hand), so a set never doubles overnight.
    assert [grown(reps) for reps in (1, 2, 3, 4, 8, 9, 12, 20)] == [2, 3, 4, 6, 12, 13, 18, 30]


def test_the_default_first_week_by_its_numbers():
    # Our own choice, worked by hand: 12 and 8 reps in halves, then in two thirds, then, after a stop, a half at once,
    # else 9 and 6 at once.
    rung = plan_for().ladder.rung(3)
    assert [(stage.sessions, *_reps(stage)) for stage in rung.stages[:3]] == [(2, 6, 4), (2, 8, 5), (1, 6, 4)]
    assert [_reps(stage) for stage in rung.stages[3:5]] == [(9, 6), (12, 8)]


def _reps(stage):
    return stage.reps.reps, stage.reps.side_reps


# The first week's short sessions have no part in this.
JUMPS = [
    {"weights": (0.0, 2.0)},
    {"weights": (0.0, 0.5, 2.5)},
    {"weights": (0.0, 1.0), "goal_reps": 12},
    {"weights": (0.0, 1.0, 2.75), "low_reps": 12},
    {"weights": (0.0, 0.5), "low_reps": 15, "goal_reps": 16, "rise": 0.1},
    {"weights": (0.0, 0.2, 2.75), "rise": 0.3},
]


@pytest.mark.parametrize("case", JUMPS)
def test_every_weight_of_the_named_range_bridges_the_jump_and_its_neighbours_do_not(case):
    plan = plan_for(
        MAN, case["weights"], first_week_sessions=1, **{key: value for key, value in case.items() if key != "weights"}
    )
    (jump,) = plan.ladder.jumps
    bridge = bridge_for(plan.routine, plan.client, jump)
    steps = round((jump.to_kg - jump.from_kg) / BRIDGE_STEP_KG)
    between = [round(jump.from_kg + step * BRIDGE_STEP_KG, 2) for step in range(1, steps)]
    crossed = {kg for kg in between if any(rung.load_kg == jump.to_kg for rung in with_weight(plan, kg).ladder.rungs)}
    if bridge is None:
        assert not crossed
        return
    named = {kg for kg in between if bridge.low_kg <= kg <= bridge.high_kg}
    assert bridge.has_bottle == (0.5 in crossed)
    assert named
    assert named <= crossed
    for just_outside in (bridge.low_kg - BRIDGE_STEP_KG, bridge.high_kg + BRIDGE_STEP_KG):
        assert round(just_outside, 2) not in crossed


def test_some_jump_is_bridged_and_some_is_not():
    found = set()
    for case in JUMPS:
        plan = plan_for(
            MAN,
            case["weights"],
            first_week_sessions=1,
            **{key: value for key, value in case.items() if key != "weights"},
        )
        found.add(bridge_for(plan.routine, plan.client, plan.ladder.jumps[0]) is None)
    assert found == {True, False}


@ANY_PLAN
@given(plan=plans())
def test_a_jump_is_refused_by_its_window_or_by_the_sides(plan):
    for jump in plan.ladder.jumps:
        assert jump.window.low >= 1
        assert jump.window.high <= plan.tuning.goal_reps
        if jump.window.low <= jump.window.high and jump.window.high >= plan.tuning.low_reps:
            # Then it is the sides: no reps to either side keep the step within a tenth.
            top = max(
                (rung for rung in plan.ladder.rungs if rung.load_kg == jump.from_kg), key=lambda rung: rung.number
            )
            reps = jump.window.high
            works = [
                session_work_j(plan.client.body, jump.to_kg, Count(reps, side))
                for side in range(5, side_goal(reps) + 1)
            ]
            assert not any(top.work_j / ALMOST <= work <= top.work_j * 1.1 * ALMOST for work in works)


def test_pounds_climb_to_the_top_without_a_jump():
    ladder = plan_for().ladder
    assert ladder.jumps == ()
    assert ladder.rungs[-1].load_kg == 5 * POUND_KG

"""A wide spread of plans, from plain ones to odd ones, for walks and properties."""

from functools import lru_cache
from random import Random

import pytest
from hypothesis import strategies as st

from webapp.dosing.faults import faults_of_routine
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import BOUNDS, Body, Client, Routine, StartRungs, Tuning

POUND_KG = 0.45359237
POUNDS = tuple(number * POUND_KG for number in range(6))
MAN = Body(70, 1.75, "male")
WOMAN = Body(60, 1.62, "female")
WEIGHTS = (0.25, 0.4535, 0.5, 0.907, 1.0, 1.36, 1.5, 2.0, 2.5, 3.0)
WEIGHTS_AT_HOME = (0.0, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0)
RISES = (0.10, 0.15, 0.20, 0.25, 0.30)


def plan_for(body=MAN, weights=POUNDS, usual=2, start_rung=None, **tuning):
    client = Client(body, ("right",), tuple(weights), usual, StartRungs(start_rung), clinician_seen=usual > 3)
    return make_plan(Routine("Test", "outer elbow", Tuning(**tuning)), client)


@lru_cache
def fixed_plans() -> tuple[Plan, ...]:
    """Plans that every walk takes, chosen for their corners."""
    return (
        plan_for(),
        plan_for(WOMAN, (0.0, 0.5, 1.0, 1.5, 2.0), usual=3),
        plan_for(weights=(0.0,), usual=0, first_week_sessions=3),
        plan_for(weights=(0.0, 2.0), usual=5),
        plan_for(weights=(0.0, 2.0), accepted_jumps_kg=(2.0,), first_week_sessions=1),
        plan_for(Body(45, 1.5, None), low_reps=10, goal_reps=12, rise=0.1),
        plan_for(WOMAN, start_rung=9, heavier_days=7, fast_heavier_days=5),
        plan_for(
            low_reps=12, goal_reps=30, rise=0.3, climb_days=7, widen_days=7, heavier_days=14, fast_heavier_days=14
        ),
        plan_for(Body(30, 1.2, "female"), weights=(0.0, 0.25), usual=1, low_reps=5, goal_reps=10, rise=0.2),
        plan_for(Body(250, 2.3, "male"), weights=(0.0, 5.0), usual=2, first_week_sessions=3),
        plan_for(weights=(0.0, 0.1, 0.2, 0.3, 0.4), usual=2, low_reps=5, goal_reps=30, rise=0.3, first_week_sessions=3),
        plan_for(WOMAN, (0.0, 0.5, 1.0), usual=4, widen_days=5),
        plan_for(low_reps=15, goal_reps=16, rise=0.1, first_week_sessions=2, start_rung=2, usual=3),
        plan_for(weights=(0.0, 0.5, 3.0), accepted_jumps_kg=(3.0,), start_rung=7, usual=0, settled_during=5),
        plan_for(usual=0, first_week_sessions=1, settled_during=2),
        plan_for(Body(90, 1.9, "male"), weights=WEIGHTS_AT_HOME, usual=3, climb_days=4, rise=0.15, top_share=0.4),
    )


# Those of the most states are walked in the long trials, but for the plain one.
LARGE = (1, 6, 7, 10, 13, 14, 15)
EACH_PLAN = [
    pytest.param(number, marks=pytest.mark.long if number in LARGE else ()) for number in range(len(fixed_plans()))
]

bodies = st.builds(
    Body,
    st.floats(30, 250, allow_nan=False),
    st.floats(1.2, 2.3, allow_nan=False),
    st.sampled_from(["female", "male", None]),
)
tunings = st.builds(
    Tuning,
    low_reps=st.integers(5, 15),
    goal_reps=st.integers(10, 30),
    rise=st.sampled_from(RISES),
    settled_during=st.integers(2, 5),
    widen_days=st.integers(3, 7),
    climb_days=st.integers(3, 7),
    heavier_days=st.integers(7, 14),
    fast_heavier_days=st.integers(5, 14),
    first_week_sessions=st.integers(1, 3),
    top_share=st.sampled_from([0.30, 0.35, 0.40]),
)
weights = st.sets(st.sampled_from(WEIGHTS), max_size=5).map(lambda some: (0.0, *sorted(some)))


def fits(tuning) -> bool:
    return not faults_of_routine(Routine("", "", tuning))


@st.composite
def plans(draw):
    usual, start = draw(st.integers(0, 5)), st.none() | st.integers(1, 12)
    starts = StartRungs(draw(start), draw(start))
    client = Client(draw(bodies), ("right", "left"), draw(weights), usual, starts, clinician_seen=usual > 3)
    return make_plan(Routine("Test", "wrist", draw(tunings.filter(fits))), client)


@lru_cache(400)
def plan_by_number(number: int) -> Plan:
    """The number-th plan of an endless row: every tuning anywhere within its bounds, any body, any weights."""
    dice = Random(number)  # noqa: S311 - dice for invented plans, not a secret
    while not fits(tuning := _any_tuning(dice)):
        pass
    usual = dice.randint(0, 5)
    kg = sorted(dice.sample(WEIGHTS, dice.randint(0, 5)))
    body = Body(dice.uniform(30, 250), dice.uniform(1.2, 2.3), dice.choice(["female", "male", None]))
    start = dice.choice([None, None, dice.randint(1, 20)])
    client = Client(body, ("right",), (0.0, *kg), usual, StartRungs(start), clinician_seen=usual > 3)
    return make_plan(Routine("Test", "wrist", tuning), client)


def _any_tuning(dice: Random) -> Tuning:
    values = {}
    for name in Tuning.__dataclass_fields__:
        if name in BOUNDS:
            bound = BOUNDS[name]
            values[name] = dice.randint(bound.low, bound.high) if bound.whole else dice.uniform(bound.low, bound.high)
    return Tuning(**values)

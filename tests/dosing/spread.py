"""A wide spread of plans, from plain ones to odd ones, for walks and properties."""

from functools import lru_cache

from hypothesis import strategies as st

from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Body, Client, Routine, Tuning, faults_of_routine

POUND_KG = 0.45359237
POUNDS = tuple(number * POUND_KG for number in range(6))
MAN = Body(70, 1.75, "male")
WOMAN = Body(60, 1.62, "female")


def plan_for(body=MAN, weights=POUNDS, usual=2, start_rung=None, **tuning):
    client = Client(body, ("right",), tuple(weights), usual, start_rung)
    return make_plan(Routine("Test", "outer elbow", Tuning(**tuning)), client)


@lru_cache
def fixed_plans() -> tuple[Plan, ...]:
    """Plans that every walk takes, chosen for their corners."""
    return (
        plan_for(),
        plan_for(WOMAN, (0.0, 0.5, 1.0, 1.5, 2.0), usual=4),
        plan_for(weights=(0.0,), usual=0, first_week_sessions=3),
        plan_for(weights=(0.0, 2.0), usual=5),
        plan_for(weights=(0.0, 2.0), accepted_jumps_kg=(2.0,), first_week_sessions=1),
        plan_for(Body(45, 1.5, None), low_reps=10, goal_reps=12, rise=0.1, climb_days=2, widen_days=2),
        plan_for(WOMAN, start_rung=9, heavier_days=3, fast_heavier_days=3, climb_days=2, fast_climb_days=2),
        plan_for(low_reps=12, goal_reps=30, rise=0.3, climb_days=7, widen_days=7, heavier_days=14),
    )


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
    rise=st.sampled_from([0.10, 0.15, 0.20, 0.25, 0.30]),
    settled_during=st.integers(2, 5),
    widen_days=st.integers(2, 7),
    climb_days=st.integers(2, 7),
    heavier_days=st.integers(3, 14),
    fast_climb_days=st.integers(2, 7),
    fast_heavier_days=st.integers(3, 14),
    first_week_sessions=st.integers(1, 3),
)
weights = st.sets(st.sampled_from([0.25, 0.4535, 0.5, 0.907, 1.0, 1.36, 1.5, 2.0, 2.5, 3.0]), max_size=5).map(
    lambda some: (0.0, *sorted(some))
)


@st.composite
def plans(draw):
    routine = Routine("Test", "wrist", draw(tunings.filter(lambda t: not faults_of_routine(Routine("", "", t)))))
    client = Client(draw(bodies), ("right", "left"), draw(weights), draw(st.integers(0, 5)))
    return make_plan(routine, client)

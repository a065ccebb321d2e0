"""Nobody is stuck in silence: from every state that is looked at, a fortnight without a climb brings a named cause.

A course of one kind of day goes on for fourteen days from a state; the review must then name what that kind of day is.
The ordinary run looks at samples of the states, the long one at all of them.
"""

from collections import Counter
from datetime import date, timedelta
from functools import lru_cache
from random import Random

import pytest

from tests.dosing.spread import WOMAN, plan_for
from tests.dosing.whole import Whole
from webapp.dosing.almanac import walk
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.findings.arm_course import ArmCourse, is_below_goal, open_jump
from webapp.dosing.findings.standstill import HINDRANCES, NO_CAUSE
from webapp.dosing.responses import calm_limit
from webapp.dosing.review import review
from webapp.dosing.state import MOST_EASE

pytestmark = pytest.mark.walk

START = date(2026, 3, 2)
FORTNIGHT, FLOOR_DAYS, SAMPLE = 14, 3, 100
TOP_SAMPLE = 10
PLANS = {
    "pounds, usual 2": plan_for(),
    "kilograms, usual 4": plan_for(WOMAN, (0.0, 0.5, 1.0), usual=4),
    "a jump": plan_for(weights=(0.0, 2.0), usual=1),
    "bare hand, usual 0": plan_for(weights=(0.0,), usual=0, first_week_sessions=3),
    "slow, usual 3": plan_for(usual=3, climb_days=7, widen_days=7, heavier_days=14, fast_heavier_days=14),
}
PARTS = 2
"""Into how many parts the walk over every state is cut, so that no test takes minutes."""
CAUSES = {*HINDRANCES, NO_CAUSE, "usual-too-low", "by-hand", "jump", "floor", "silent", "sharp", "held-after-rest"}


def day(during=1, morning=1, done="enough", **other):
    return DayFacts(0 if done == "none" else 1, done, during, during is None and done != "none", morning, **other)


def courses(plan):
    """For each kind of day: what the fortnight holds, and the causes that are right for it, the arm not being held."""
    usual, calm = plan.client.usual, calm_limit(plan.client.usual)
    getting_worse = [*[day(1, calm), *[day(1, calm + 1)] * 2] * 3, *[day(1, calm + 1)] * 5]
    return {
        "not rated": ([day(None, None)] * FORTNIGHT, {"not-rated"}),
        "mornings alone": ([day(None, 1)] * FORTNIGHT, {"not-rated"}),
        "done in part": ([day(done="part")] * FORTNIGHT, {"done-in-part"}),
        "aching": ([day(5, min(usual, 2))] * FORTNIGHT, {"aching"}),
        "aching, mornings not told": ([day(5, None)] * FORTNIGHT, {"aching"}),
        "usual too low": ([day(1, calm), *[day(1, calm + 1)] * 13], {"usual-too-low"}),
        "tender, and more so": (getting_worse, {"tender"}),
        "flares and rest": ([day(6, 2), day(done="none", during=None, morning=2)] * 7, {"resting"}),
        "away": ([day(done="none", during=None, morning=None)] * FORTNIGHT, {"silent"}),
        "three days off, one on": ([*[day(done="none", during=None, morning=1)] * 3, day()] * 4, {"away"}),
        "settled": ([day(1, min(usual, 1))] * FORTNIGHT, {NO_CAUSE}),
    }


@lru_cache
def whole_of(name):
    return Whole(PLANS[name])


@lru_cache
def states(name):
    """Samples of all reachable states, days of gap included, of those without a gap, and of those on the highest rung."""
    whole = whole_of(name)
    dice = Random(name)  # noqa: S311 - dice for a sample, not a secret
    numbers = dice.sample(range(whole.count), min(SAMPLE, whole.count))
    rows = dice.sample(whole.almanac.states, min(SAMPLE, len(whole.almanac.states)))
    top = [state for state in whole.almanac.states if whole.plan.is_top(state) and not state.ease]
    return [*map(whole.state, numbers), *rows, *dice.sample(top, min(TOP_SAMPLE, len(top)))]


def followed(plan, state, facts):
    today = START + timedelta(len(facts))
    days = follow(plan, state, START, {START + timedelta(n): known for n, known in enumerate(facts)}, today)
    return ArmCourse(plan, days, days[-1].state_after, today)


def named(case):
    return {finding.id for finding in review(case)} & CAUSES


def expected(case, kind, causes):
    if case.state.mode == "held":
        return {"sharp", "held-after-rest"}
    if kind == "settled" and case.plan.is_top(case.state) and open_jump(case.plan):
        return {"jump"}
    if kind == "settled" and case.plan.climbs_by_hand:
        return {"by-hand"}
    return causes


def is_stuck(case):
    return case.state.mode == "held" or (is_below_goal(case) and len(case.days_without_climb) == FORTNIGHT)


def walked(name):
    """Every stuck course of a plan: (the kind of its days, the case, the causes that are right)."""
    plan = PLANS[name]
    for kind, (facts, causes) in courses(plan).items():
        for state in states(name):
            case = followed(plan, state, facts[:FORTNIGHT])
            if is_stuck(case):
                yield kind, case, expected(case, kind, causes)


@pytest.mark.parametrize("name", PLANS)
def test_a_fortnight_without_a_climb_below_the_goal_has_its_cause_named(name):
    wrong = [
        (kind, case.days[0].state_before, named(case)) for kind, case, right in walked(name) if not named(case) & right
    ]
    assert not wrong[:3]


@pytest.mark.parametrize("name", PLANS)
def test_whatever_the_days_are_no_fortnight_without_a_climb_is_passed_over(name):
    plan, dice = PLANS[name], Random(name)  # noqa: S311 - as above
    kinds = [known for facts, _ in courses(plan).values() for known in facts[:7]]
    cases = [followed(plan, state, dice.choices(kinds, k=FORTNIGHT)) for state in states(name) for _ in range(2)]
    stuck = [case for case in cases if is_stuck(case)]
    assert len(stuck) > len(cases) / 4
    assert not [case.days[0].state_before for case in stuck if not named(case)]


@pytest.mark.parametrize("name", PLANS)
def test_three_days_at_the_bottom_are_told_whatever_they_are(name):
    plan = PLANS[name]
    bottom = [
        state for state in walk(plan).states if (state.rung, state.ease) == (1, MOST_EASE) and state.mode != "held"
    ]
    cases = [followed(plan, state, facts[:FLOOR_DAYS]) for facts, _ in courses(plan).values() for state in bottom]
    stood = [case for case in cases if all(each.state_after[:2] == (1, MOST_EASE) for each in case.days)]
    assert len(stood) > len(bottom)
    assert not [case.days for case in stood if not named(case) & {"floor", "held-after-rest"}][:3]


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize("name", PLANS)
def test_from_every_state_a_fortnight_without_a_climb_has_its_cause_named(name, part, counted):
    # A session ends a gap: from states that differ in their days of gap alone, a course that begins with one is the same.
    whole = whole_of(name)
    each = {False: [*map(whole.state, range(part, whole.count, PARTS))], True: whole.almanac.states[part::PARTS]}
    seen, wrong = Counter(), []
    for kind, (facts, causes) in courses(PLANS[name]).items():
        for state in each[facts[0].done != "none"]:
            case = followed(PLANS[name], state, facts[:FORTNIGHT])
            if is_stuck(case):
                seen[kind] += 1
                if not named(case) & expected(case, kind, causes):
                    wrong.append((kind, state, named(case)))
    assert not wrong[:3]
    assert set(seen) >= set(courses(PLANS[name])) - {"settled"}
    counted(
        f"causes, {name}, part {part}: {len(each[False])} states, {seen.total()} fortnights without a climb, none silent"
    )

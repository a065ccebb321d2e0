"""The short day, the split about sport, the times a client may change: what must hold for every dose of every plan."""

from functools import cache

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.amount import drawn
from tests.dosing.spread import EACH_PLAN, MAN, fixed_plans, plan_for, plans
from webapp.dosing.almanac import build
from webapp.dosing.body import arc_degrees, work_of_rep_j
from webapp.dosing.dose import Dose, DoseSet
from webapp.dosing.settings import BOUNDS, Tempo
from webapp.dosing.ways import adjustable, around_sport, short_reps

ALMOST = 1 + 1e-9
OVER_THE_SETTINGS = settings(
    max_examples=drawn(3, 15),
    deadline=None,
    derandomize=True,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def doses(plan):
    return [dose for dose in build(plan).doses if dose.sets]


@cache
def sets_of_twelve_and_eight(load_kg):
    def set_of(movement, direction, reps):
        work = work_of_rep_j(MAN, load_kg, *arc_degrees(direction, 1.0)) * reps
        return DoseSet(movement, direction, reps, load_kg, 1.0, work)

    return Dose("training", 1, sets=(set_of("palm_down", "extension", 12), set_of("thumb_up", "radial", 8)))


def work(body, sets, reps, load_kg=None):
    """What so many reps of each set come to, with its own weight or another."""
    loads = [each.load_kg if load_kg is None else load_kg for each in sets]
    rep_works_j = [
        work_of_rep_j(body, load, *arc_degrees(each.direction, each.range))
        for each, load in zip(sets, loads, strict=True)
    ]
    return sum(rep_j * count for rep_j, count in zip(rep_works_j, reps, strict=True))


def check_the_day_about_sport_is_no_more_than_the_day(plan):
    body = plan.client.body
    for dose in doses(plan):
        before, after = around_sport(body, dose)
        parts_j = work(body, dose.sets, before, 0.0) + work(body, dose.sets, after)
        others = dose.work_j / dose.sessions * (dose.sessions - 1)
        assert parts_j + others <= dose.work_j * ALMOST
        assert all(count >= 1 for count in after)
        assert all(count >= 1 for count, each in zip(before, dose.sets, strict=True) if each.reps > 1)


def check_a_short_day_has_every_direction_and_no_rep_more(plan):
    for dose in doses(plan):
        short = short_reps(dose)
        assert len(short) == len(dose.sets)
        assert all(min(5, each.reps) <= count <= each.reps for count, each in zip(short, dose.sets, strict=True))


CHECKS = (check_the_day_about_sport_is_no_more_than_the_day, check_a_short_day_has_every_direction_and_no_rep_more)


@pytest.mark.parametrize("check", CHECKS)
@pytest.mark.parametrize("number", EACH_PLAN)
def test_on_plans_with_odd_corners(check, number):
    check(fixed_plans()[number])


@pytest.mark.drawn
@pytest.mark.parametrize("check", CHECKS)
@OVER_THE_SETTINGS
@given(plan=plans())
def test_on_any_plan(check, plan):
    check(plan)


def test_a_session_without_weight_is_split_rep_by_rep():
    assert around_sport(MAN, sets_of_twelve_and_eight(0.0)) == ((4, 2), (8, 6))


def test_reps_without_the_weight_cost_less_than_they_would_with_it():
    before, after = around_sport(MAN, sets_of_twelve_and_eight(1.0))
    assert before == (4, 2)
    assert all(8 < count < 12 for count in after[:1])


def test_a_short_day_halves_the_reps_and_stops_at_five():
    assert short_reps(sets_of_twelve_and_eight(1.0)) == (6, 5)


def test_pauses_may_grow_tenfold_and_the_pace_stays_in_its_bounds():
    times = adjustable(Tempo())
    assert {name: (time.low, time.high) for name, time in times.items()} == {
        "prepare_seconds": (5, 100),
        "up_seconds": (1, 6),
        "down_seconds": (1, 8),
        "rest_seconds": (5, 200),
        "change_arm_seconds": (5, 150),
    }
    assert all(time.low <= BOUNDS[name].low <= time.seconds <= time.high for name, time in times.items())


def test_a_resting_day_has_no_other_way():
    resting = Dose("resting")
    assert short_reps(resting) == ()
    assert around_sport(plan_for().client.body, resting) == ((), ())

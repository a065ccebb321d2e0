"""The numbers read off a course mean what they say."""

import numpy as np
import pytest

from tests.forecast.people import NET_MENDER, look_ahead, tables
from webapp.dosing.figures import POUND
from webapp.dosing.responses import RESPONSES
from webapp.forecast.arms import Arms
from webapp.forecast.measures import (
    capacity_gained,
    flare_days,
    flare_days_to_goal,
    goal_rung,
    longest_standstill,
    stands_still,
    weeks_to_do,
    weeks_to_settle,
)
from webapp.forecast.populations import POPULATIONS
from webapp.forecast.question import Goal
from webapp.forecast.responders import draw


def test_flared_and_sharp_days_are_counted_and_no_others():
    course = look_ahead()
    counted = flare_days(course)
    clients = [int(counted.argmax()), 0, 50, 100]
    words = [[RESPONSES[number] for number in course.truth[:, client]] for client in clients]
    by_hand = [sum(word in ("flared", "flared_idle", "sharp") for word in each) for each in words]
    assert counted[clients].tolist() == by_hand
    assert by_hand[0] > 0


def test_flare_days_up_to_the_goal_leave_out_those_after_it():
    course, goal = look_ahead(clients=200), Goal().work_j(NET_MENDER.body)
    counted, whole = flare_days_to_goal(course, goal), flare_days(course)
    assert np.all(counted <= whole)
    assert (counted < whole).any()
    never = np.isinf(weeks_to_do(course, goal))
    assert never.any()
    assert np.array_equal(counted[never], whole[never])


def test_a_standstill_is_counted_from_climb_to_climb_and_ends_at_the_goal():
    rungs = np.array([[3, 3], [3, 3], [3, 4], [4, 5], [3, 5], [3, 5], [3, 5]])
    assert longest_standstill(rungs, 5).tolist() == [3, 1]
    assert longest_standstill(rungs, 9).tolist() == [3, 3]


def test_the_goal_lies_on_the_first_rung_with_its_work():
    # By hand: 16 lifts of 3 lb are more than 15; 20 of 2 lb are less.
    rung = tables().plan.ladder.rung(goal_rung(tables(), Goal().work_j(NET_MENDER.body)))
    assert (round(rung.load_kg / POUND.value), rung.count.reps) == (3, 16)
    assert goal_rung(tables(), 1e6) == tables().plan.ladder.top


def test_who_rates_nothing_stands_still_and_the_robust_do_not():
    goal = Goal().work_j(NET_MENDER.body)
    by_id = {population.id: population for population in POPULATIONS}
    silent, ordinary = look_ahead(population=by_id["rates-nothing"]), look_ahead()
    assert stands_still(silent, tables(), goal).all()
    assert stands_still(ordinary, tables(), goal)[ordinary.cohort.kind == 2].mean() < 0.1


def test_a_goal_counts_as_settled_there_no_sooner_than_as_done():
    course, goal = look_ahead(), Goal().work_j(NET_MENDER.body)
    done, settled = weeks_to_do(course, goal), weeks_to_settle(course, goal)
    assert np.all(done <= settled)
    assert np.isfinite(done).any()
    assert np.isinf(weeks_to_do(course, 1e6)).all()


def test_the_weeks_to_a_goal_are_the_first_day_of_enough_work():
    course = look_ahead()
    weeks = weeks_to_do(course, 10.0)
    for client in (0, 60, 119):
        first = next(day for day in range(84) if course.done[day, client] >= 10.0)
        assert weeks[client] == pytest.approx(first / 7)


def test_capacity_gained_compares_the_end_with_the_beginning():
    course = look_ahead()
    assert capacity_gained(course)[0] == pytest.approx(course.tolerance[-1, 0] / course.cohort.tolerance[0] - 1)


def _arms(days=400):
    return Arms(draw(NET_MENDER, 3, days, 1))


def test_in_the_long_run_each_joule_a_day_adds_its_gain():
    arms = _arms()
    arms.cohort.busy[:] = 0
    for _ in range(399):
        arms.sleep(np.full(arms.cohort.count, 2.0))
    added = arms.tolerance - arms.cohort.tolerance
    # Whole days are summed here, where the form integrates: a joule a day weighs a little less or more.
    assert added == pytest.approx(2.0 * arms.cohort.gain, rel=0.05)


def test_work_within_the_tolerance_leaves_no_soreness_and_work_over_it_does():
    mild, hard = _arms(30), _arms(30)
    for arms, share in ((mild, 0.5), (hard, 3.0)):
        arms.cohort.busy[:] = 0
        arms.cohort.morning_noise[:] = 0
        arms.sleep(share * arms.cohort.tolerance)
    nothing = np.zeros(mild.cohort.count)
    assert np.all(hard.sleep(nothing) > mild.sleep(nothing))
    mild_later, hard_later = (np.array([arms.sleep(nothing) for _ in range(20)])[-1] for arms in (mild, hard))
    assert mild_later == pytest.approx(hard_later, abs=1e-4)

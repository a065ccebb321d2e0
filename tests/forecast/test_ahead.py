"""The weeks ahead of one client: the same rules as the almanac's, virtual clients who are like this one, either practitioner."""

import numpy as np
import pytest

from tests.forecast.people import NET_MENDER, SEED, plan, tables
from webapp.dosing.closing import close_day
from webapp.dosing.dose import dose
from webapp.dosing.plan import start_state
from webapp.forecast import figures
from webapp.forecast.ahead import CLIENTS, Ahead, Followed, weeks_ahead
from webapp.forecast.arms import Arms
from webapp.forecast.course import continue_run, run
from webapp.forecast.likeness import PastDay, likely, weights_of
from webapp.forecast.prescribers import OurRules, sore_work_j
from webapp.forecast.responders import draw
from webapp.forecast.rows_ahead import RowsAhead

DAYS = 84
START = start_state(plan(), "right")
WORK_J = sore_work_j(dose(plan(), START))
CALM, SORE = ((PastDay(WORK_J, *rated),) * 28 for rated in ((1, 1), (5, 4)))


def _ahead(past=(), state=START, *, acts=False):
    return weeks_ahead(Ahead(plan(), past, 12, SEED), Followed(plan(), state, acts))


@pytest.mark.parametrize("acts", [False, True])
def test_rows_made_as_they_are_met_lead_to_the_same_course_as_the_whole_almanac(acts):
    cohort = draw(NET_MENDER, 40, DAYS, SEED)
    rows = RowsAhead(plan(), START)
    ahead = run(OurRules(rows, cohort.count, acts=acts), cohort, plan())
    whole = run(OurRules(tables(), cohort.count, acts=acts), cohort, plan())
    np.testing.assert_array_equal(ahead.response, whole.response)
    np.testing.assert_array_equal(rows.rung[ahead.row], tables().rung[whole.row])
    np.testing.assert_allclose(ahead.asked_j, whole.asked_j)
    assert len(np.unique(ahead.row)) > 100


def test_a_run_that_goes_on_begins_where_the_replayed_days_ended_and_leaves_them_as_they_are():
    cohort = draw(NET_MENDER, 20, DAYS, SEED)
    whole = run(OurRules(tables(), cohort.count), cohort, plan())
    arms = Arms(cohort)
    for day in range(10):
        arms.feel(whole.done[day])
        arms.sleep(whole.done[day])
    np.testing.assert_allclose(arms.tolerance, whole.tolerance[9])
    on = continue_run(OurRules(tables(), cohort.count), arms.copied(), plan(), [1, 1, 1])
    assert on.done.shape == (DAYS - 10, cohort.count)
    np.testing.assert_allclose(arms.tolerance, whole.tolerance[9])
    assert arms.day == 10


def test_who_was_sore_rests_more_and_climbs_less_in_the_weeks_ahead():
    calm, sore = _ahead(CALM), _ahead(SORE)
    assert sore.rest_days.high > calm.rest_days.high
    assert sore.rung[-1].middle < calm.rung[-1].middle


def test_those_whose_ratings_lie_nearer_are_drawn_more_often():
    cohort = draw(NET_MENDER, 200, 30, SEED)
    drawn = likely(cohort, SORE, CLIENTS, SEED).cohort
    assert drawn.count == CLIENTS
    assert drawn.usual.mean() > cohort.usual.mean()


def test_without_a_past_every_virtual_client_is_as_likely():
    cohort = draw(NET_MENDER, 100, 30, SEED)
    drawn = likely(cohort, (), CLIENTS, SEED).cohort
    assert sorted(drawn.tolerance) == sorted(cohort.tolerance)


def test_a_long_past_still_leaves_enough_virtual_clients():
    weights = weights_of(np.linspace(0, 5000, 400))
    assert 1 / (weights**2).sum() >= figures.LIKE_AT_LEAST.value
    assert weights.sum() == pytest.approx(1)
    assert weights[0] == weights.max()


def test_a_held_arm_rests_until_the_practitioner_ends_the_hold():
    held = close_day(plan(), START, "sharp").state
    ahead = _ahead(state=held)
    assert ahead.rest_days.low > figures.RELEASE_DAYS.value
    assert ahead.rung[0].middle == held.rung


def test_the_same_question_has_the_same_answer_and_bands_are_in_order():
    first = _ahead(CALM)
    weeks_ahead.cache_clear()
    assert _ahead(CALM) == first
    assert all(band.low <= band.middle <= band.high for band in (*first.work_j, *first.rung))
    assert len(first.work_j) == 13


def test_an_arm_at_the_top_needs_no_week_to_get_there():
    ahead = _ahead(state=START._replace(rung=plan().ladder.top, first_week_day=0, first_week_stage=0))
    assert ahead.weeks_to_top.low == 0

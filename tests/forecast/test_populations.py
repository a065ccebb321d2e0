"""Every population differs from the ordinary one in what it says it does, and in nothing else."""

import numpy as np
import pytest

from tests.forecast.people import NET_MENDER, SEED, look_ahead, plan, tables
from webapp.dosing.responses import RESPONSES, classify
from webapp.forecast import figures
from webapp.forecast.populations import FAR_TOO_LOW, ORDINARY, POPULATIONS, TOO_LOW, UNDER_REPORTERS, Population
from webapp.forecast.responders import draw

BY_ID = {population.id: population for population in POPULATIONS}


def _course(name, **options):
    return look_ahead(days=56, population=BY_ID[name], **options)


def _is_rated(ratings):
    return ratings >= 0


def test_under_reporters_tell_three_points_less_than_they_feel_and_never_less_than_none():
    course = _course("under-reporters")
    for felt, reported in ((course.during, course.reported_during), (course.morning, course.reported_morning)):
        both = _is_rated(felt) & _is_rated(reported)
        assert np.array_equal(reported[both], np.maximum(felt[both] - 3, 0))
        assert (felt[both] > 3).any()


def test_over_reporters_tell_two_points_more_and_never_more_than_ten():
    course = _course("over-reporters")
    both = _is_rated(course.reported_morning)
    assert np.array_equal(course.reported_morning[both], np.minimum(course.morning[both] + 2, 10))


def test_who_rates_nothing_reports_nothing_and_who_rates_mornings_reports_those():
    nothing, mornings = _course("rates-nothing"), _course("rates-mornings")
    assert (nothing.reported_during == -1).all()
    assert (nothing.reported_morning == -1).all()
    assert (mornings.reported_during == -1).all()
    assert (mornings.reported_morning >= 0).mean() > 0.9


def test_who_does_half_of_each_session_never_does_enough_and_never_climbs():
    course = _course("half-done")
    is_done = course.done > 0
    assert np.allclose(course.done[is_done], 0.5 * course.asked_j[is_done])
    assert not (course.response == RESPONSES.index("settled")).any()
    assert (course.response == RESPONSES.index("partly")).any()
    assert (course.asked_j[-1] <= course.asked_j[0] + 1e-9).all()


def test_who_skips_misses_three_asked_sessions_in_ten():
    skipped = {}
    for name in ("ordinary", "skipping"):
        course = _course(name, clients=100)
        skipped[name] = (course.done[course.asked_j > 0] == 0).mean()
    assert skipped["ordinary"] == pytest.approx(0.05, abs=0.01)
    assert skipped["skipping"] == pytest.approx(0.30, abs=0.01)


def test_an_ache_is_felt_in_every_session_and_leaves_the_mornings_calm():
    course = _course("aching")
    assert course.during[course.done > 0].min() >= 3
    assert np.median(course.during[course.done > 0]) == 4
    assert np.median(course.morning) <= 1


def test_where_the_usual_pain_is_agreed_too_low_the_true_one_is_three():
    for population, points in ((TOO_LOW, 1), (FAR_TOO_LOW, 2)):
        agreed = population.plan_for(plan()).client
        assert agreed.usual + points == population.true_usual(agreed.usual) == 3
        assert draw(agreed, 400, 1, SEED, population=population).usual.mean() == pytest.approx(3, abs=0.1)


def test_a_usual_pain_that_never_falls_is_as_high_at_the_end_and_others_fall():
    high, ordinary = _course("high-usual", clients=200), _course("ordinary", clients=200)
    assert high.morning[-7:].mean() == pytest.approx(high.morning[:7].mean(), abs=0.1)
    assert high.morning.mean() == pytest.approx(5, abs=0.2)
    assert (
        ordinary.morning[-7:, ordinary.cohort.kind == 2].mean() < ordinary.morning[:7, ordinary.cohort.kind == 2].mean()
    )


def test_a_usual_pain_of_five_never_climbs_by_itself():
    rungs = tables(5).rung[_course("high-usual").row]
    assert (rungs == 1).all()


def test_who_never_adapts_gains_no_tolerance():
    course = _course("never-adapts")
    assert np.allclose(course.tolerance, course.cohort.tolerance)
    assert not np.allclose(_course("ordinary").tolerance[-1], _course("ordinary").cohort.tolerance)


def test_late_soreness_comes_later():
    early, late = (Population("x", peak_days=days) for days in (2.0, 3.0))
    first = [look_ahead(days=6, clients=300, population=each).morning[:2].mean() for each in (early, late)]
    assert first[0] > first[1]
    assert BY_ID["late-peak"].peak_days == 3


def test_every_population_meets_the_same_dice():
    ordinary, under = (draw(NET_MENDER, 20, 14, SEED, population=each) for each in (ORDINARY, UNDER_REPORTERS))
    for name in ("tolerance", "gain", "missed", "unreported", "busy", "morning_noise"):
        assert np.array_equal(getattr(ordinary, name), getattr(under, name))


def test_the_truth_is_what_was_felt_and_not_what_was_reported():
    course = look_ahead(clients=100, population=UNDER_REPORTERS)
    flared = np.isin(course.truth, [RESPONSES.index(name) for name in ("flared", "flared_idle", "sharp")])
    reported = np.isin(course.response, [RESPONSES.index(name) for name in ("flared", "flared_idle", "sharp")])
    assert flared.sum() > 5 * reported.sum() > 0


def test_the_response_is_the_classing_tables_own():
    course, plan_ = look_ahead(days=42), plan()
    for client in range(0, course.cohort.count, 11):
        for day in range(3, 42):
            known = [int(m) for m in course.reported_morning[day - 3 : day, client] if m >= 0]
            during, morning = (int(r[day, client]) for r in (course.reported_during, course.reported_morning))
            done = "none" if course.done[day, client] == 0 else "enough"
            ratings = (None if rating < 0 else rating for rating in (during, morning))
            response = classify(done, *ratings, min(known, default=None), plan_.client.usual, plan_.tuning)
            assert RESPONSES[course.response[day, client]] == response


def test_no_two_populations_share_an_id_and_every_figure_is_marked_as_our_own():
    assert len(BY_ID) == len(POPULATIONS) == 13
    assert all(
        getattr(figures, name).source == "own-choice" for name in ("SKIPPED_SHARE", "UNDER_REPORT", "OVER_REPORT")
    )

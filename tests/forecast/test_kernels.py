"""What a day's work leaves behind, against the values in print or worked out beside them."""

import numpy as np
import pytest

from webapp.forecast import figures
from webapp.forecast.kernels import GENERIC, FitnessFatigue, soreness_after


# Own curve (derived) through the published window of soreness after exercise: builds over a day, peaks at one to three
# days, gone by five to seven (Cheung, Hume, Maxwell 2003, second-hand).
@pytest.mark.parametrize(("days", "share"), [(0, 0.0), (1, 0.680), (2, 1.0), (3, 0.828), (5, 0.311), (7, 0.083)])
def test_soreness_follows_the_time_course(days, share):
    assert soreness_after(np.array([float(days)]))[0] == pytest.approx(share, abs=0.0005)


def test_soreness_is_at_its_most_two_days_after_and_never_before():
    days = np.linspace(0, 14, 1401)
    assert days[soreness_after(days).argmax()] == pytest.approx(2.0)


def test_late_soreness_is_at_its_most_three_days_after():
    days = np.linspace(0, 14, 1401)
    late = soreness_after(days, 3.0)
    assert days[late.argmax()] == pytest.approx(3.0)
    assert late.max() == pytest.approx(1.0)


def test_soreness_is_all_but_gone_after_ten_days():
    assert soreness_after(np.array([10.0]))[0] < 0.01


# Derived from the generic weights and times (1, 2, 45 and 15 days: Morton, Fitz-Clarke, Banister 1990, values from memory).
def test_one_unit_of_work_has_paid_off_its_fatigue_when_the_generic_form_says():
    assert GENERIC.crossing_day == pytest.approx(15.60, abs=0.005)
    assert GENERIC.after_one(GENERIC.crossing_day) == pytest.approx(0, abs=1e-9)


def test_one_unit_of_work_helps_most_when_the_generic_form_says():
    assert GENERIC.best_day == pytest.approx(40.31, abs=0.005)
    near = GENERIC.after_one(GENERIC.best_day + np.array([-1.0, 0.0, 1.0]))
    assert near.argmax() == 1


def test_the_day_after_the_generic_form_is_far_below_nothing():
    assert GENERIC.after_one(1.0) == pytest.approx(-0.8930, abs=0.00005)


def test_the_times_in_use_are_those_commonly_assumed():
    # 42 and 7 days (IJSPP 17:810, 2022, seen).
    assert (figures.FITNESS_DAYS.value, figures.FATIGUE_DAYS.value) == (42, 7)


def test_less_fatigue_is_paid_off_sooner():
    assert FitnessFatigue(1, 2, 42, 7).crossing_day < GENERIC.crossing_day

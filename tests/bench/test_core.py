"""What is timed is what it claims to be. Nothing here waits for a clock or compares one."""

import json

import pytest

from webapp.bench.clock import Timed, floor_of, measured, seconds_of
from webapp.bench.core import bench_core
from webapp.bench.example import FIRST_ON, FORTNIGHT, diary, log
from webapp.sync.log.facts import facts_by_arm
from webapp.words import words_for


def test_work_is_done_once_to_warm_up_and_once_a_round():
    calls = []
    timed = seconds_of(lambda: calls.append(1), rounds=3)
    assert len(calls) == 4
    assert timed.least <= timed.middle <= timed.most


def test_a_measurement_tells_count_time_and_floor():
    figures = measured(floor_of(100), 100, "look-up", rounds=1)
    assert figures["count"] == 100
    assert figures["per"] == "look-up"
    assert {"milliseconds", "microseconds_each", "times_the_floor"} <= set(figures)
    assert Timed._fields == ("middle", "least", "most")


def test_the_made_up_log_says_what_the_made_up_diary_says():
    figures, days = facts_by_arm(log(28))["right"], diary(28)
    assert len(days) == 2 * len(FORTNIGHT)
    assert min(days) == FIRST_ON
    assert {on: figures[on] for on in days if on in figures} == {
        on: facts for on, facts in days.items() if on in figures
    }
    assert len(set(days) - set(figures)) == 0


@pytest.mark.long
def test_the_whole_answer_is_plain_json_and_shows_one_ten_and_a_hundred_times_the_work():
    figures = bench_core(words_for(), rounds=1)
    assert json.loads(json.dumps(figures)) == figures
    for rows in figures["growth"].values():
        first, tenfold, hundredfold = (row["count"] for row in rows)
        assert (tenfold, hundredfold) == (10 * first, 100 * first)
    assert figures["almanac"]["weights"] == 6
    assert figures["forecast_500_by_84"]["count"] == 501 * 84

"""The run of many clients at once says what the core says of each of them alone."""

from datetime import date, timedelta

import numpy as np
import pytest

from tests.forecast.people import NET_MENDER, SEED, look_ahead, plan, tables
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import start_state
from webapp.dosing.release import offer, released
from webapp.dosing.responses import ENOUGH, NONE, RESPONSES, cube_index
from webapp.forecast import figures
from webapp.forecast.diary import Day
from webapp.forecast.measures import flare_days
from webapp.forecast.prescribers import HELD, OurRules
from webapp.forecast.responders import draw

FIRST_ON = date(2026, 3, 2)
SAMPLED = (0, 2, 17, 39, 40, 55, 63, 80, 101, 119)


def _known(rating):
    return None if rating < 0 else int(rating)


def _facts(course, client, days):
    facts = {}
    for day in range(days):
        was_done = bool(course.done[day, client] > 0)
        during, morning = (_known(each[day, client]) for each in (course.reported_during, course.reported_morning))
        facts[FIRST_ON + timedelta(days=day)] = DayFacts(
            int(was_done), ENOUGH if was_done else NONE, during, is_unrated=was_done and during is None, morning=morning
        )
    return facts


def _days_before_a_hold(course, client):
    held = tables().mode[course.row[:, client]] == HELD
    return int(held.argmax()) if held.any() else len(held)


@pytest.mark.parametrize("client", SAMPLED)
def test_every_day_of_a_client_is_what_the_core_makes_of_the_same_reports(client):
    course = look_ahead()
    days = _days_before_a_hold(course, client)
    until = FIRST_ON + timedelta(days=days)
    accounts = follow(plan(), start_state(plan()), FIRST_ON, _facts(course, client, days), until)
    assert len(accounts) == days > 60
    for day, account in enumerate(accounts):
        assert RESPONSES[course.response[day, client]] == account.response
        assert course.row[day, client] == tables().almanac.position(account.state_before).row
        assert tables().work[course.row[day, client]] == pytest.approx(account.dose.work_j)


def test_the_sampled_clients_meet_more_than_calm_days():
    seen = set(look_ahead().response[:, list(SAMPLED)].ravel().tolist())
    assert {RESPONSES.index(word) for word in ("settled", "flared", "flared_idle", "unreported", "missed")} <= seen


def test_the_same_seed_gives_the_same_days():
    once, again = look_ahead(), look_ahead()
    for name in ("row", "during", "morning", "response", "tolerance"):
        assert np.array_equal(getattr(once, name), getattr(again, name))


def test_another_seed_gives_other_days():
    assert not np.array_equal(look_ahead().morning, look_ahead(seed=SEED + 1).morning)


def test_a_kind_is_drawn_alike_whoever_else_is_drawn():
    alone = draw(NET_MENDER, 5, 7, SEED, figures.KINDS[:1])
    together = draw(NET_MENDER, 5, 7, SEED)
    assert np.array_equal(alone.tolerance, together.tolerance[:5])


def _cell(rating):
    return np.array([cube_index(ENOUGH, rating, rating, 1)])


def test_a_hold_is_released_after_some_days_with_all_that_is_offered():
    rules, nothing = OurRules(tables(), 1), np.array([1])
    for rating in (1, 1, 1, 9):
        rules.close(Day(nothing, nothing, _cell(rating)))
    held = tables().almanac.states[rules.at.row[0]]
    doses = []
    while tables().mode[rules.at.row[0]] == HELD:
        doses.append(rules.ask()[0])
        rules.close(Day(nothing, nothing, np.array([cube_index(NONE, None, None, 1)])))
    assert doses == [0.0] * int(figures.RELEASE_DAYS.value)
    assert tables().almanac.states[rules.at.row[0]] == released(plan(), held, offer(plan(), held))


def test_hardier_kinds_flare_less_and_climb_sooner():
    course = look_ahead(clients=200)
    flares = flare_days(course)
    rungs = tables().rung[course.row[55]]
    by_kind = [
        (flares[course.cohort.kind == kind].mean(), rungs[course.cohort.kind == kind].mean()) for kind in range(3)
    ]
    assert by_kind[0][0] > by_kind[1][0] > by_kind[2][0]
    assert by_kind[0][1] < by_kind[1][1] < by_kind[2][1]


def test_tolerance_never_falls_under_its_floor():
    course = look_ahead()
    assert np.all(course.tolerance >= figures.LEAST_TOLERANCE.value * course.cohort.tolerance - 1e-9)


def test_nothing_is_felt_in_a_session_that_was_not_done():
    course = look_ahead()
    assert np.array_equal(course.during < 0, course.done == 0)
    assert (course.done == 0).any()

"""The run of many clients at once says what the core says of each of them alone."""

from datetime import date, timedelta

import numpy as np
import pytest

from tests.forecast.people import NET_MENDER, SEED, look_ahead, plan, tables
from webapp.dosing.course import DayFacts, follow
from webapp.dosing.plan import released, start_state
from webapp.dosing.responses import RESPONSES
from webapp.forecast import figures
from webapp.forecast.prescribers import HELD, OurRules
from webapp.forecast.responders import draw

FIRST_ON = date(2026, 3, 2)
SAMPLED = (0, 1, 17, 39, 40, 55, 79, 80, 101, 119)


def _facts(course, client, days):
    facts = {}
    for day in range(days):
        during, reported = int(course.during[day, client]), int(course.reported[day, client])
        morning = None if reported < 0 else reported
        facts[FIRST_ON + timedelta(days=day)] = DayFacts(int(during >= 0), None if during < 0 else during, morning)
    return facts


def _days_before_a_hold(course, client):
    held = tables().mode[course.state[:, client]] == HELD
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
        assert course.state[day, client] == tables().almanac.index(account.state_before)
        assert tables().work[course.state[day, client]] == pytest.approx(account.dose.work_j)


def test_the_sampled_clients_meet_more_than_calm_days():
    told = set(look_ahead().response[:, list(SAMPLED)].ravel().tolist())
    assert {RESPONSES.index(word) for word in ("settled", "tender", "flared", "unreported", "missed")} <= told


def test_the_same_seed_gives_the_same_days():
    once, again = look_ahead(), look_ahead()
    for name in ("state", "during", "morning", "response", "tolerance"):
        assert np.array_equal(getattr(once, name), getattr(again, name))


def test_another_seed_gives_other_days():
    assert not np.array_equal(look_ahead().morning, look_ahead(seed=SEED + 1).morning)


def test_a_kind_is_drawn_alike_whoever_else_is_drawn():
    alone = draw(NET_MENDER, 5, 7, SEED, figures.KINDS[:1])
    together = draw(NET_MENDER, 5, 7, SEED)
    assert np.array_equal(alone.tolerance, together.tolerance[:5])


def test_a_hold_is_released_after_some_days_two_rungs_down():
    sharp, calm = RESPONSES.index("sharp"), RESPONSES.index("settled")
    rules = OurRules(tables(), 1)
    ratings = np.array([1])
    for _ in range(3):
        rules.close(np.array([calm]), ratings, ratings)
    rung = int(tables().rung[rules.state[0]])
    rules.close(np.array([sharp]), ratings, ratings)
    asked = []
    while tables().mode[rules.state[0]] == HELD:
        asked.append(rules.ask()[0])
        rules.close(np.array([RESPONSES.index("missed")]), ratings, ratings)
    assert asked == [0.0] * int(figures.RELEASE_DAYS.value)
    below = rung - int(figures.RELEASE_RUNGS_DOWN.value)
    assert rules.state[0] == tables().almanac.index(released(plan(), below))


def test_hardier_kinds_flare_less_and_climb_sooner():
    course = look_ahead(clients=200)
    flares = np.isin(course.response, [RESPONSES.index("flared"), RESPONSES.index("sharp")]).sum(axis=0)
    rungs = tables().rung[course.state[55]]
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

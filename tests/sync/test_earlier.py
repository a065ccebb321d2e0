"""When a finding was there before: on the same mornings on which the log, folded up to each of them, shows it."""

from datetime import timedelta

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY, NOW
from webapp.records import routines
from webapp.sync.bundle.plans import plan_of
from webapp.sync.folding.earlier import Time, times_before
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.review import noticed

ONE_DAY = timedelta(days=1)
FLARE, CALM, SILENT = (6, 2), (1, 1), (None, None)
COURSES = {
    "flares, calm, flares": [*[CALM] * 4, FLARE, CALM, CALM, FLARE, *[CALM] * 12, FLARE, CALM, CALM, FLARE],
    "mornings missing twice": [*[(1, None)] * 5, *[CALM] * 4, *[(1, None)] * 4],
    "away twice": [*[CALM] * 3, *[SILENT] * 5, *[CALM] * 3, *[SILENT] * 4],
    "tender for long": [*[CALM] * 3, *[(3, 3)] * 26],
    "sore under each usual": [*[(3, 3)] * 9, *[CALM] * 3, *[(3, 4)] * 10],
    "standing still twice": [*[CALM] * 9, *[(4, 1)] * 16, *[CALM] * 9, *[(4, 1)] * 16],
    "only calm": [CALM] * 12,
}


@pytest.fixture
def course(request, db, ansgar, send, received):
    """A client with one of these courses, who got a version with another usual pain on the tenth day; the day after it all."""
    newest = routines.latest(db, ansgar.id)
    routines.push(db, ansgar.id, newest.routine, {**newest.settings, "usual": 3}, "", 1, NOW)
    second = event("routine_received", FIRST_DAY + 9 * ONE_DAY, {"version": 2, "bundle": ""}, seq=950)
    send(ansgar, received(), second, *days_of(FIRST_DAY, COURSES[request.param]))
    return FIRST_DAY + len(COURSES[request.param]) * ONE_DAY


def _found(db, client, today):
    newest = plan_of(routines.latest(db, client.id))
    return noticed(accounts_of(db, client.id, today), today, newest)


def _mornings(times):
    return {time.first + number * ONE_DAY for time in times for number in range(time.days)}


@pytest.mark.parametrize("course", COURSES, indirect=True)
def test_a_finding_was_there_on_each_morning_on_which_the_log_so_far_shows_it(db, ansgar, course):
    found = _found(db, ansgar, course)
    times = times_before(accounts_of(db, ansgar.id, course), found, (), course)
    earlier = [FIRST_DAY + number * ONE_DAY for number in range((course - FIRST_DAY).days)]
    shown = {on: {each.finding.id for each in _found(db, ansgar, on)} for on in earlier}
    for each in found:
        before = _mornings(times.get((each.arm, each.finding.id), ()))
        # The time that goes on today is left out.
        while earlier and each.finding.id in shown[earlier[-1]]:
            before.add(earlier.pop())
        earlier = sorted(shown)
        assert before == {on for on in earlier if each.finding.id in shown[on]}, each.finding.id
    assert {id_ for _, id_ in times} <= {each.finding.id for each in found}


@pytest.mark.parametrize("course", ["flares, calm, flares"], indirect=True)
def test_the_time_that_goes_on_is_not_one_before(db, ansgar, course):
    found = [each for each in _found(db, ansgar, course) if each.finding.id == "flared-twice"]
    times = times_before(accounts_of(db, ansgar.id, course), found, (), course)
    first = FIRST_DAY + 8 * ONE_DAY
    assert times == {("right", "flared-twice"): [Time(first, first + 3 * ONE_DAY)]}


@pytest.mark.parametrize("course", ["only calm"], indirect=True)
def test_without_a_finding_nothing_is_looked_for(db, ansgar, course):
    assert times_before(accounts_of(db, ansgar.id, course), [], (), course) == {}

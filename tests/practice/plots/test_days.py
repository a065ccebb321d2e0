"""The days of a plot are those of the log: what was told stands on the day on which it was told, what was asked on its day."""

from datetime import date

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist
from webapp.practice.plots.days import Marks, plot_days
from webapp.practice.plots.marks import marks_of
from webapp.records import routines
from webapp.sync.folding.fold import accounts_of

TODAY = date(2026, 3, 9)


@pytest.fixture
def founder_days(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2), (3, None), (None, 3)]))
    return days_shown(site, site.founder, "right")


def days_shown(site, client, arm, first=FIRST_DAY):
    account = accounts_of(site.db, client.id, TODAY)[arm]
    marks = marks_of(site.db, client.id, first, TODAY)
    return {day.on.day: day for day in plot_days(account, routines.of_client(site.db, client.id), first, TODAY, marks)}


def test_a_morning_stands_on_its_own_day_and_a_session_on_the_day_before(founder_days):
    assert [(day.morning, day.worst) for day in founder_days.values()][:4] == [
        (None, 1),
        (2, 3),
        (None, None),
        (3, None),
    ]


def test_the_days_go_to_today_and_say_what_each_asked(founder_days):
    assert list(founder_days) == list(range(2, 10))
    assert all(day.mode == "training" and day.work_j > 0 and day.version == 1 for day in founder_days.values())


def test_days_before_the_routine_ask_nothing(site, founder_days):
    early = days_shown(site, site.founder, "right", first=date(2026, 2, 27))[27]
    assert (early.mode, early.rung, early.load_kg, early.usual, early.version) == ("", 0, None, None, 0)
    assert founder_days[2].usual == 2


def test_a_hold_is_of_the_days_after_the_stop(site):
    hold_cellist(site)
    days = days_shown(site, site.cellist, "left")
    assert [(days[n].mode, days[n].is_sharp) for n in (8, 9)] == [("training", True), ("held", False)]
    assert days[9].load_kg is None


def test_sport_and_days_away_are_marked(site):
    body = {"what": "travelling", "first": "2026-03-05", "last": "2026-03-06", "happened": []}
    site.begin(
        site.founder,
        [
            event("exposure_noted", date(2026, 3, 3), {"what": "sport", "name": "", "minutes": None}, seq=60),
            event("exposure_noted", date(2026, 3, 4), {"what": "desk", "name": "", "minutes": None}, seq=61),
            event("exposure_noted", date(2026, 3, 10), {"what": "sport", "planned": True}, seq=62),
            event("away_noted", date(2026, 3, 7), body, seq=63),
        ],
    )
    assert marks_of(site.db, site.founder.id, FIRST_DAY, TODAY) == Marks(
        frozenset({date(2026, 3, 3)}), frozenset({date(2026, 3, 5), date(2026, 3, 6)})
    )

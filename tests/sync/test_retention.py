"""Who has ended is removed after the years that their practice has set."""

from datetime import date, datetime, timedelta

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY, NOW
from webapp.events.course_set import SetCourse
from webapp.records import carrying, keeping, practitioners, removal
from webapp.sync.case import finishing, retention

LATER = datetime(2028, 3, 4, 12, tzinfo=NOW.tzinfo)


@pytest.fixture
def ended(db, ansgar, isaura, hedda, send):
    """Two clients, of whom the bell founder has ended; their practice removes after two years."""
    for client in (ansgar, isaura):
        send(client, *days_of(FIRST_DAY, [(1, 2)]))
    finishing.set_course(
        db, ansgar.id, SetCourse("ended", 0, FIRST_DAY, "Well again.", "Hedda"), finishing.seal(()), now=NOW
    )
    keeping.choose_years(db, _practice(db, hedda), 2)
    return ansgar


def _practice(db, hedda):
    return practitioners.find(db, hedda.id).practice


def test_who_has_ended_is_due_years_after_the_end_or_the_last_entry(db, ended, hedda, send):
    assert retention.due(db, NOW) == [retention.Due(ended.id, "Ansgar Tolle", date(2028, 3, 2))]
    send(ended, event("letter_written", date(2026, 3, 3), {"text": "One more thing."}, seq=60))
    assert retention.due(db, LATER)[0].on == date(2028, 3, 3)
    keeping.choose_years(db, _practice(db, hedda), None)
    assert retention.due(db, LATER) == []


def test_on_that_day_the_client_is_removed_and_nobody_else(db, ended, isaura):
    assert retention.remove_due(db, NOW) == 0
    assert retention.remove_due(db, LATER) == 1
    assert carrying.keys(db) == [isaura.id]
    assert [each.why for each in removal.removals(db)] == ["kept_long_enough"]
    assert retention.remove_due(db, LATER) == 0


def test_who_trains_again_is_not_due(db, ended):
    seal = finishing.seal(finishing.courses_of(db, ended.id))
    again = SetCourse("training", 0, date(2026, 3, 20), "It came back.", "Hedda")
    finishing.set_course(db, ended.id, again, seal, now=NOW)
    assert retention.due(db, LATER) == []


def test_the_29th_of_february_comes_on_the_1st_of_march(db, ansgar, hedda, send):
    leap = date(2028, 2, 29)
    finishing.set_course(db, ansgar.id, SetCourse("ended", 0, leap, "Well.", "H"), finishing.seal(()), now=NOW)
    keeping.choose_years(db, _practice(db, hedda), 2)
    assert [each.on for each in retention.due(db, LATER)] == [date(2030, 3, 1)]


def _run(db, daily, first, days):
    for count in range(days):
        daily.remove(db, first + timedelta(days=count))


def test_it_is_looked_at_once_a_day(db, ended, send):
    daily = retention.Daily()
    _run(db, daily, LATER - timedelta(days=7), 7)
    assert removal.removals(db) == []
    daily.remove(db, LATER)
    assert len(removal.removals(db)) == 1
    finished = finishing.seal(())
    (left,) = carrying.keys(db)
    finishing.set_course(db, left, SetCourse("ended", 0, FIRST_DAY, "Well.", "Hedda"), finished, now=NOW)
    daily.remove(db, LATER)
    assert carrying.keys(db) == [left]
    daily.remove(db, LATER + timedelta(days=1))
    assert carrying.keys(db) == []


def test_a_clock_that_jumps_by_years_removes_nobody_within_a_week_and_nobody_once_it_is_right_again(db, ended, isaura):
    _run(db, retention.Daily(), NOW, 9)
    _run(db, retention.Daily(), LATER.replace(year=2036), 7)
    _run(db, retention.Daily(), NOW + timedelta(days=16), 9)
    assert carrying.keys(db) == [ended.id, isaura.id]


def test_nobody_is_removed_within_a_week_after_the_years_were_chosen(db, ended, hedda, isaura):
    _run(db, retention.Daily(), LATER - timedelta(days=30), 20)
    keeping.choose_years(db, _practice(db, hedda), 2)
    _run(db, retention.Daily(), LATER, 7)
    assert carrying.keys(db) == [ended.id, isaura.id]
    _run(db, retention.Daily(), LATER + timedelta(days=7), 1)
    assert carrying.keys(db) == [isaura.id]


def test_who_is_silent_for_years_without_an_end_is_kept_and_named(db, ended, isaura, mirela, hedda):
    year = date(2026, 3, 2)
    later = datetime(2028, 3, 3, 12, tzinfo=NOW.tzinfo)
    assert retention.remove_due(db, later) == 1
    assert retention.quiet(db, later, hedda.id, 2) == [
        retention.Quiet(mirela.public_id, "Mirela Quist", year),
        retention.Quiet(isaura.public_id, "Isaura Linde", date(2026, 3, 3)),
    ]
    assert [each.name for each in retention.quiet(db, later.replace(day=2), hedda.id, 2)] == ["Mirela Quist"]
    assert retention.quiet(db, later, hedda.id, None) == []
    assert retention.remove_due(db, later.replace(year=2050)) == 0

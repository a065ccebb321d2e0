"""One way to write a day, and one for an instant, whose zone is always named."""

from datetime import UTC, date, datetime

import pytest

from webapp.words import words_for
from webapp.words.days import day_text, instant_text, time_text

ENGLISH = words_for("en")
LATE = datetime(2026, 3, 9, 22, 45, tzinfo=UTC)


def test_a_day_has_its_weekday_and_its_year():
    assert day_text(ENGLISH, date(2026, 3, 9)) == "Mon 9 Mar 2026"


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        ("UTC", "Mon 9 Mar 2026, 22:45 UTC"),
        ("Etc/UTC", "Mon 9 Mar 2026, 22:45 UTC"),
        ("Europe/Lisbon", "Mon 9 Mar 2026, 22:45, Lisbon time"),
        # India is 5 h 30 min ahead of UTC: the IANA time zone database.
        ("Asia/Kolkata", "Tue 10 Mar 2026, 04:15, Kolkata time"),
    ],
)
def test_an_instant_is_written_in_its_zone_and_names_it(zone, said):
    assert instant_text(ENGLISH, LATE, zone) == said


def test_a_time_of_day_names_its_zone_too():
    assert time_text(ENGLISH, LATE, "Asia/Kolkata") == "04:15, Kolkata time"

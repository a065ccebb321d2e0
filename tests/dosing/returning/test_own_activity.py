"""The client's own activity before a way back: met, spoken against, or asked about."""

from datetime import date, timedelta

import pytest

from webapp.dosing.course import DayFacts
from webapp.dosing.returning.own_activity import own_activity_point

TODAY = date(2026, 6, 1)


def days_ago(numbers):
    return {TODAY - timedelta(days=back): value for back, value in numbers.items()}


# clinic/return.md, gate, point 4: rated 2 or less, three days in a row. A low rating of how well it goes is no pain.
@pytest.mark.parametrize(
    ("sport", "ratings", "answer"),
    [
        ({}, {}, "not_told"),
        ({}, {1: 8, 2: 8, 3: 10}, "told"),
        ({}, {1: 8, 2: 7, 3: 10}, "not_told"),
        ({}, {1: 9, 3: 9, 5: 9}, "not_told"),
        ({1: 2}, {2: 9, 3: 9}, "told"),
        ({1: 2}, {1: 5, 2: 9, 3: 9}, "not_told"),
        ({4: 3}, {1: 9, 2: 9, 3: 9}, "against"),
        ({8: 9}, {1: 9, 2: 9, 3: 9}, "told"),
        ({}, {7: 9, 8: 9, 9: 9}, "not_told"),
    ],
)
def test_it_is_told_only_by_three_days_in_a_row_of_the_last_week_and_pain_in_sport_speaks_against_it(
    sport, ratings, answer
):
    facts = [days_ago({back: DayFacts(sport_minutes=5, sport_worst=worst) for back, worst in sport.items()}), {}]
    point = own_activity_point(facts, days_ago(ratings), TODAY)
    assert (point.evidence["answer"], point.is_met) == (answer, answer == "told")

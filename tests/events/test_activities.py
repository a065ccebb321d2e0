"""The client's own activities in a log: which are in force, and how each was rated; the same on the phone."""

from datetime import timedelta

import msgspec
import pytest

from tests import builders
from tests.cast import FIRST_DAY
from webapp.events.activities import named_in, ratings_in
from webapp.events.codec import check_body, decode
from webapp.events.kinds import EventError

WEEK = timedelta(7)
KETTLE, KEY = "Lifting the kettle", "Turning a key"


def entry(kind, on, body, seq):
    return decode(builders.event(kind, on, body, seq=seq))


INTAKE = {"arms": ["right"], "places": ["outer_elbow"], "usual": 2, "weights_kg": [], "sport_days": 0, "other_care": []}
TOLD = entry("intake_told", FIRST_DAY, INTAKE | {"activities": [{"name": KEY, "rating": 3}]}, 1)
NAMED = entry("activities_named", FIRST_DAY, {"activities": [KETTLE, KEY]}, 2)
LATER = entry("activities_named", FIRST_DAY + WEEK, {"activities": [KETTLE]}, 3)
RATED = entry("activity_rated", FIRST_DAY + WEEK, {"activity": KETTLE, "rating": 6}, 4)


def test_the_activities_in_force_are_those_that_the_practice_named_last():
    assert named_in([TOLD]) == (KEY,)
    assert named_in([NAMED, TOLD]) == (KETTLE, KEY)
    assert named_in([LATER, NAMED, TOLD]) == (KETTLE,)
    assert named_in([]) == ()


def test_the_ratings_of_the_intake_are_the_first():
    found = [(each.on, each.activity, each.rating) for each in ratings_in([RATED, TOLD, NAMED])]
    assert found == [(FIRST_DAY, KEY, 3), (FIRST_DAY + WEEK, KETTLE, 6)]


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("activities_named", {"activities": [KETTLE] * 4}),
        ("activities_named", {"activities": ["x" * 81]}),
        ("activities_named", {}),
        ("activity_rated", {"activity": KETTLE, "rating": 11}),
        ("activity_rated", {"activity": KETTLE, "rating": -1}),
        ("activity_rated", {"rating": 5}),
    ],
)
def test_a_body_that_does_not_fit_is_refused(kind, body):
    with pytest.raises(EventError):
        check_body(kind, body)


def test_the_rating_is_decoded_as_it_was_sent():
    assert msgspec.to_builtins(RATED.body) == {"activity": KETTLE, "rating": 6}

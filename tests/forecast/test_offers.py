"""The practitioner who acts takes up what the review offers, and only where it may."""

import numpy as np
import pytest

from tests.forecast.people import look_ahead, plan, tables
from webapp.dosing.plan import carry_over
from webapp.dosing.responses import RESPONSES, cube_index
from webapp.forecast.measures import flare_days
from webapp.forecast.offers import Review, SettingsInForce, Signs, are_no_worse, may_offer, middle_known
from webapp.forecast.populations import ACHING, TOO_LOW

YES, NO = np.array([True]), np.array([False])
SETTLED, ACHES, FLARED = (RESPONSES.index(name) for name in ("settled", "aching", "flared"))


def _signs(days=10, quiet=10, since=28, **signs):
    return Signs(
        np.array([days]),
        np.array([quiet]),
        np.array([since]),
        **{"is_no_worse": YES, "is_below_goal": YES, "is_training": YES, **signs},
    )


def test_an_offer_is_made_from_ten_days_without_a_climb():
    assert may_offer(_signs())[0]


@pytest.mark.parametrize(
    "signs",
    [
        {"days": 9},
        {"quiet": 9},
        {"since": 27},
        {"is_no_worse": NO},
        {"is_below_goal": NO},
        {"is_training": NO},
    ],
)
def test_no_offer_is_made_where_one_condition_fails(signs):
    assert not may_offer(_signs(**signs))[0]


@pytest.mark.parametrize(
    ("mornings", "expected"),
    [
        ([0, 0, 0, 0, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2], True),
        ([2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 3], False),
        ([3, 3, 3, 3, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2], False),
        ([9, 9, 9, 9, 3, 2, 2, 2, 2, 3, 2, 2, 2, 2], True),
        # Days without a report are left out, and the mornings before them count.
        ([9, 9, 3, 3, -1, 3, 3, -1, 3, 3, -1, 3, 3, 3], True),
        ([1, 1, 1, 1, -1, 1, 2, -1, 2, 2, -1, 2, 2, 2], False),
        # Nine known mornings are too few.
        ([-1, -1, -1, -1, -1, 2, 2, 2, 2, 2, 2, 2, 2, 2], False),
    ],
)
def test_the_last_five_known_mornings_are_held_against_the_five_before(mornings, expected):
    assert are_no_worse(np.array(mornings)[:, None])[0] == expected


def test_the_middle_morning_leaves_out_what_is_not_known():
    ratings = np.array([[3, 1, -1], [-1, 2, -1], [2, 3, -1], [3, 4, -1]])
    assert middle_known(ratings).tolist() == [3, 2, -1]


def _fortnight(during, morning, response, *, flare_on=None):
    """A review after fourteen equal days, and what it took up."""
    settings, review = SettingsInForce(plan(), 1), Review(1)
    for day in range(14):
        cell = np.array([cube_index("enough", during, morning, morning)])
        review.write(cell, np.array([FLARED if day == flare_on else response]), NO)
    is_taken = review.take_up(settings, YES, YES)
    return bool(is_taken[0]), int(settings.usual[0]), int(settings.ceiling[0])


def test_sessions_at_four_with_calm_mornings_bring_the_ceiling_to_four():
    assert _fortnight(4, 1, ACHES) == (True, 1, 4)


def test_sessions_at_five_bring_nothing_for_one_point_more_would_settle_no_day():
    assert _fortnight(5, 1, ACHES) == (False, 1, 3)


def test_calm_days_bring_nothing():
    assert _fortnight(1, 1, SETTLED) == (False, 1, 3)


def test_a_flare_within_ten_days_bars_the_offer_and_one_before_does_not():
    assert _fortnight(4, 1, ACHES, flare_on=4)[0] is False
    assert _fortnight(4, 1, ACHES, flare_on=3)[0] is True


def test_mornings_at_three_bring_a_usual_pain_of_two_to_three_and_no_further():
    usual_two = tables(2).plan
    settings, review = SettingsInForce(usual_two, 1), Review(1)
    for _ in range(14):
        review.write(np.array([cube_index("enough", 2, 3, 3)]), np.array([RESPONSES.index("tender")]), NO)
    assert review.take_up(settings, YES, YES)[0]
    assert (settings.usual[0], settings.ceiling[0]) == (3, 3)
    assert not review.take_up(settings, YES, YES)[0]
    assert settings.usual[0] == 3


def test_the_second_offer_comes_four_weeks_after_the_first():
    settings, review, taken = SettingsInForce(tables(2).plan, 1), Review(1), {}
    for day in range(60):
        # Sessions at 4 ask for a higher ceiling; later, mornings at 3 ask for a higher usual pain.
        during, morning = (4, 2) if day < 20 else (2, 3)
        review.write(np.array([cube_index("enough", during, morning, morning)]), np.array([ACHES]), NO)
        if review.take_up(settings, YES, YES)[0]:
            taken[day] = (int(settings.usual[0]), int(settings.ceiling[0]))
    assert taken == {9: (2, 4), 37: (3, 4)}


def test_who_aches_climbs_once_the_practitioner_acts_and_not_before():
    idle, acting = (look_ahead(population=ACHING, acts=acts) for acts in (False, True))
    assert tables().rung[idle.row[-1]].max() <= tables().rung[idle.row[0]].max()
    assert np.median(tables().rung[acting.row[-1]]) >= np.median(tables().rung[idle.row[-1]]) + 5


def test_a_change_starts_the_counts_again_and_leaves_the_rung():
    course, without = (look_ahead(population=TOO_LOW, acts=acts) for acts in (True, False))
    states, parted = tables(2).almanac.states, np.argmax(course.row != without.row, axis=0)
    seen = 0
    for client in np.flatnonzero(parted):
        day = parted[client]
        if not np.array_equal(course.response[:day, client], without.response[:day, client]):
            continue  # The change found all counts at their start, and only a later day was classed otherwise.
        after, unchanged = states[course.row[day, client]], states[without.row[day, client]]
        assert after == carry_over(tables(2).plan, tables(2).plan, unchanged)
        seen += 1
    assert seen > 10


def test_ordinary_clients_hardly_flare_more_with_a_practitioner_who_acts():
    idle, acting = (flare_days(look_ahead(clients=200, acts=acts)).mean() for acts in (False, True))
    assert 0 < acting < idle + 0.15

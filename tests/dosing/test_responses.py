"""Classing a day against the published cut-points."""

import pytest

from webapp.dosing.responses import NO_SESSION, UNRATED, classify
from webapp.dosing.settings import Tuning


def classed(during, morning, before=None, usual=2, **tuning):
    return classify(during, morning, before, usual, Tuning(**tuning))


@pytest.mark.parametrize(
    ("during", "morning", "before", "usual", "told"),
    [
        # 0-3 minimal, 4-5 acceptable, 6-10 excessive: NHS Inform elbow advice (seen).
        (3, 2, 2, 2, "settled"), (4, 2, 2, 2, "tender"), (5, 2, 2, 2, "tender"), (6, 2, 2, 2, "flared"),
        # 8 and over is severe: Boonstra 2016 (seen).
        (7, 2, 2, 2, "flared"), (8, 2, 2, 2, "sharp"), (2, 8, 2, 2, "sharp"), (2, 7, 7, 5, "flared"),
        # One point is inside the noise (MDC90 1.4 in lateral elbow tendinopathy, 2025, seen); two are not.
        (2, 3, 2, 2, "tender"), (2, 4, 2, 2, "flared"), (2, 3, 1, 2, "flared"), (2, 2, 0, 2, "settled"),
        # A morning no worse than usual is settled, whatever the usual (Silbernagel 2007, seen second-hand).
        (2, 4, 4, 4, "settled"), (2, 4, 2, 4, "settled"), (2, 5, 4, 4, "tender"), (2, 5, 3, 4, "flared"),
    ],
)  # fmt: skip
def test_ratings_class_by_the_published_cut_points(during, morning, before, usual, told):
    assert classed(during, morning, before, usual) == told


def test_no_morning_yet_stands_for_the_usual_one():
    assert classed(2, 4, None, 2) == classed(2, 4, 2, 2) == "flared"
    assert classed(2, 4, None, 3) == classed(2, 4, 3, 3) == "tender"


def test_a_day_without_a_session_is_missed_unless_the_morning_flares():
    assert classed(NO_SESSION, None) == "missed"
    assert classed(NO_SESSION, 1) == "missed"
    assert classed(NO_SESSION, 6) == "flared"
    assert classed(NO_SESSION, 9) == "sharp"


def test_a_session_without_a_morning_report_is_unreported_unless_it_was_bad_already():
    assert classed(2, None) == "unreported"
    assert classed(UNRATED, None) == "unreported"
    assert classed(6, None) == "flared"
    assert classed(9, None) == "sharp"


def test_an_unrated_session_is_never_settled():
    assert classed(UNRATED, 0) == "tender"


def test_the_settled_ceiling_follows_the_practitioner():
    assert classed(4, 1, settled_during=4) == "settled"
    assert classed(3, 1, settled_during=2) == "tender"

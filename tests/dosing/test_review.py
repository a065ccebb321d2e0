"""The review against one golden file for each finding; its limits are our own and published ones (see `FINDINGS`)."""

import pytest

from tests.vectors.reviews import COURSES, FOLDER, found, text_of
from webapp.dosing import figures
from webapp.dosing.review import FINDINGS


@pytest.mark.parametrize("name", COURSES)
def test_each_course_gives_just_what_its_golden_file_says(name):
    assert text_of(name) == (FOLDER / f"{name}.json").read_text(encoding="utf-8")


@pytest.mark.parametrize("watch", FINDINGS, ids=lambda watch: watch.id)
def test_every_finding_has_a_course_that_brings_it_about(watch):
    assert watch.id in {finding["id"] for finding in found(watch.id)}


def test_the_important_change_is_two_points_or_thirty_per_cent():
    # Farrar et al. 2001, Pain 94:149-158 (seen): 2 points or about 30 %. 6 to 4 is both, 8 to 6 points only,
    # 3 to 2 per cent only and below the 2025 MDC90 of 1.4 (seen).
    points, share = figures.IMPORTANT_POINTS.value, figures.IMPORTANT_SHARE.value
    told = {(before, now): (before - now >= points, (before - now) / before >= share)
            for before, now in ((6, 4), (8, 6), (3, 2))}  # fmt: skip
    assert told == {(6, 4): (True, True), (8, 6): (True, False), (3, 2): (False, True)}


def test_a_finding_has_a_condition_and_a_basis():
    assert all(watch.condition and watch.basis for watch in FINDINGS)
    assert len({watch.id for watch in FINDINGS}) == len(FINDINGS)

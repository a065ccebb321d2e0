"""The page for a doctor or a physiotherapist."""

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.cellist.public_id}/summary"


def test_the_page_says_doses_findings_signs_and_the_question(site, hedda, path):
    hold_cellist(site)
    hedda.open(f"{path}?ask=May+the+load+go+past+1+kg%3F")
    for said in (
        "Left arm: Held", "Sharp pain or a warning sign was reported", "Asked of you: May the load go past 1 kg?",
        "Sessions on 3 of 7 training days", "Usual morning 1.", "Not asked in this program.", "not measurements",
    ):  # fmt: skip
        assert said in hedda.text


def test_a_sign_that_was_told_and_activities_stand_on_it(site, hedda, path):
    raised = event("warning_raised", FIRST_DAY, {"sign": "hot_swollen", "arms": ["left"]}, seq=70)
    rated = event("activity_rated", FIRST_DAY, {"activity": "Bowing", "rating": 4}, seq=71)
    site.begin(site.cellist, [*days_of(FIRST_DAY, [(1, 1)], arms=("left",)), raised, rated])
    hedda.open(f"/practice/cases/{site.cellist.public_id}")
    hedda.fill(
        "/activities",
        {"activities-activity_1": "Bowing"},
        post_to=f"/practice/cases/{site.cellist.public_id}/activities",
    )
    hedda.open(path)
    assert "Bowing : 4" in hedda.text or "Bowing: 4" in hedda.text
    assert "a joint became very painful" in hedda.text


def test_a_question_is_cut_and_never_markup(site, hedda, path):
    site.begin(site.cellist, [])
    hedda.open(f"{path}?ask=<script>{'x' * 400}")
    assert "<script>x" not in hedda.page.text
    assert "x" * 301 not in hedda.page.text


def test_there_is_no_page_before_a_routine_counts_nor_of_another_practice(site, hedda, path):
    assert hedda.open(path).status_code == 404
    assert hedda.open(f"/practice/cases/{site.organ_builder.public_id}/summary").status_code == 404

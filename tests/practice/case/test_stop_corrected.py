"""The case page when a client corrects an answer that stopped an arm: the stop is gone, and what was said stays in sight."""

from datetime import date

import pytest

from tests.builders import event

PATH = "/practice/cases/ansgar0001"
DAY = date(2026, 3, 7)
SHARP, HIGH, CALM = ({"right": {"pain": pain, "sharp": sharp}} for pain, sharp in ((4, True), (9, False), (1, False)))
TITLE = "Stops that the client corrected away"


def _reported(arms, *bodies):
    """A morning report, and its corrections in turn."""
    report = event("morning_reported", DAY, {"arms": arms}, seq=70)
    fixes = [
        event("entry_corrected", DAY, {"replaces": report["id"], "body": body}, seq=seq)
        for seq, body in enumerate(bodies, start=71)
    ]
    return [report, *fixes]


@pytest.mark.parametrize(
    ("arms", "bodies", "said"),
    [
        (SHARP, [{"arms": CALM}], "4 out of 10, sharp pain"),
        (HIGH, [{"arms": CALM}], "9 out of 10"),
        (HIGH, [None], "9 out of 10"),
        (CALM, [{"arms": HIGH}, {"arms": CALM}], "9 out of 10"),
    ],
)
def test_a_stop_that_was_corrected_away_is_shown_with_what_was_said(site, hedda, arms, bodies, said):
    site.begin(site.founder, _reported(arms, *bodies))
    text = hedda.open(PATH).text
    assert TITLE in text
    assert f"Right arm, morning of Sat 7 Mar 2026: {said}." in text


@pytest.mark.parametrize(
    ("arms", "bodies"), [(SHARP, []), (SHARP, [{"arms": HIGH}]), (CALM, [{"arms": HIGH}]), (CALM, [{"arms": CALM}])]
)
def test_what_still_stops_the_arm_or_never_did_is_not_shown_so(site, hedda, arms, bodies):
    site.begin(site.founder, _reported(arms, *bodies))
    assert TITLE not in hedda.open(PATH).text

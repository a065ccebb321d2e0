"""What a client told of after days away, or of a morning with more than soreness, stands in the caseload for a week."""

from datetime import date, timedelta

import pytest

from tests.builders import event
from tests.cast import FIRST_DAY
from webapp.practice.caseload.lines import caseload_of
from webapp.sync.case.to_ask import SHOWN_FOR
from webapp.sync.caseload.strip import sport_days

TODAY = date(2026, 3, 9)
AWAY = {"first": FIRST_DAY.isoformat(), "last": FIRST_DAY.isoformat(), "what": "ill", "happened": ["fever"]}
BESIDES = {"arms": {"right": {"pain": 3, "besides": True}}}


@pytest.fixture
def line(site):
    def looked_at(days):
        now = site.clock() + timedelta(days=days)
        lines = caseload_of(site.db, site.hedda.id, now).lines
        return next(line for line in lines if line.case.id == site.founder.id)

    return looked_at


@pytest.mark.parametrize(("kind", "body"), [("away_noted", AWAY), ("morning_reported", BESIDES)])
def test_it_is_marked_for_a_week(site, line, hedda, kind, body):
    entry = event(kind, TODAY, body, seq=70)
    site.begin(site.founder, [entry])
    assert (line(0).is_to_ask, line(0).group) == (True, "needs")
    assert line(SHOWN_FOR.days - 1).is_to_ask
    assert not line(SHOWN_FOR.days).is_to_ask
    hedda.open("/practice")
    assert "Told of something to ask about" in hedda.text


def test_days_away_of_which_nothing_was_told_and_what_was_taken_back_are_not(site, line):
    away = event("away_noted", TODAY, {**AWAY, "happened": []}, seq=70)
    besides = event("morning_reported", TODAY, BESIDES, seq=71)
    back = event("entry_corrected", TODAY, {"replaces": besides["id"], "body": None}, seq=72)
    site.begin(site.founder, [away, besides, back])
    assert not line(0).is_to_ask


def corrected(entry, body, seq):
    """A correction of the day after the entry."""
    return event("entry_corrected", TODAY, {"replaces": entry["id"], "body": body}, seq=seq)


def test_a_correction_that_comes_too_late_to_take_a_stop_away_takes_nothing_from_the_desk_either(site, line):
    yesterday = TODAY - timedelta(days=1)
    besides = event("morning_reported", yesterday, {"arms": {"right": {"pain": 9, "besides": True}}}, seq=70)
    sport = {"what": "sport", "minutes": 5, "step": 1, "arms": {"right": {"worst": 9}}}
    played = event("exposure_noted", yesterday, sport, seq=71)
    site.begin(
        site.founder,
        [besides, played, corrected(besides, {"arms": {"right": {"pain": 2}}}, 72), corrected(played, None, 73)],
    )
    assert line(0).is_to_ask
    assert sport_days(site.db, site.founder.id, yesterday) == {yesterday}

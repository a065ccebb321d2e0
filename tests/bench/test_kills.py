"""The trial of kills, shortened: a real server, killed again and again, copied and put back."""

import pytest

from webapp.bench.kills import MUST_BE_NONE, trial_kills

ROUNDS = 30


@pytest.mark.long
@pytest.mark.parametrize("is_old_sqlite", [False, True], ids=["the SQLite we bring", "Python's own SQLite"])
def test_nothing_acknowledged_is_lost_doubled_or_revived(counted, is_old_sqlite):
    figures = trial_kills(ROUNDS, seed=11, is_old_sqlite=is_old_sqlite)
    counted(f"kills: {figures}")
    assert {name: figures[name] for name in MUST_BE_NONE} == dict.fromkeys(MUST_BE_NONE, 0)
    assert figures["kills"] == ROUNDS
    assert figures["restores"] == 3
    assert figures["waited_to_be_confirmed"] == 4
    assert min(figures["acknowledged_between_kills"], figures["phones_left"], figures["links_used"]) > 0

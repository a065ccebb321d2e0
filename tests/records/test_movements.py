"""The movements of a practice's own in the records: versions that never change, one practice's alone, and retired ones."""

from datetime import timedelta

import pytest

from tests.cast import NOW
from tests.own_movements import OVER_A_ROLL, carried
from webapp.records import movements, practices
from webapp.records.database import write

LATER = NOW + timedelta(hours=1)


@pytest.fixture
def roll(db, hedda):
    return movements.make(db, hedda.practice, OVER_A_ROLL, hedda.id, "form 1", NOW)


@pytest.fixture
def other_practice(db):
    with write(db):
        return practices.begin(db, "Somebody else")


def test_a_form_that_is_sent_twice_makes_one_movement(db, hedda, roll):
    assert movements.make(db, hedda.practice, {**OVER_A_ROLL, "name": "Other"}, hedda.id, "form 1", LATER) == roll
    (kept,) = movements.of_practice(db, hedda.practice)
    assert (kept.version, kept.content, kept.by) == (1, OVER_A_ROLL, hedda.name)
    assert kept.entries == carried(OVER_A_ROLL, roll)


def test_a_change_is_a_new_version_and_the_old_one_stays(db, hedda, roll):
    changed = movements.change(db, hedda.practice, roll, {**OVER_A_ROLL, "name": "Over the towel"}, hedda.id, 1, LATER)
    assert (changed.version, changed.content["name"]) == (2, "Over the towel")
    assert [each.content["name"] for each in movements.versions_of(db, hedda.practice, roll)] == [
        "Over the towel",
        "Palm down over a roll",
    ]


def test_the_same_change_twice_is_one_version(db, hedda, roll):
    new = {**OVER_A_ROLL, "name": "Over the towel"}
    for _ in range(2):
        assert movements.change(db, hedda.practice, roll, new, hedda.id, 1, LATER).version == 2


def test_a_change_on_top_of_somebody_s_change_is_noticed(db, hedda, roll):
    movements.change(db, hedda.practice, roll, {**OVER_A_ROLL, "name": "Mine"}, hedda.id, 1, LATER)
    with pytest.raises(movements.ChangedMeanwhileError):
        movements.change(db, hedda.practice, roll, {**OVER_A_ROLL, "name": "Yours"}, hedda.id, 1, LATER)
    assert movements.find(db, hedda.practice, roll).content["name"] == "Mine"


def test_no_practice_sees_another_s(db, hedda, roll, other_practice):
    assert movements.find(db, other_practice, roll) is None
    assert movements.of_practice(db, other_practice) == []
    assert movements.versions_of(db, other_practice, roll) == []


def test_a_retired_movement_can_be_offered_again(db, hedda, roll):
    movements.set_retired(db, hedda.practice, roll, LATER)
    assert movements.find(db, hedda.practice, roll).retired_at is not None
    movements.set_retired(db, hedda.practice, roll, None)
    assert movements.find(db, hedda.practice, roll).retired_at is None


def test_one_that_came_with_a_file_does_not_touch_the_practice_s_own(db, hedda, roll, other_practice):
    with write(db):
        movements.bring(db, hedda.practice, {**carried(OVER_A_ROLL, roll, 9), "name": "From a file"}, LATER)
        movements.bring(db, other_practice, carried(OVER_A_ROLL, roll, 9), LATER)
    assert movements.find(db, hedda.practice, roll).content["name"] == "Palm down over a roll"
    brought = movements.find(db, other_practice, roll)
    assert (brought.version, brought.by, brought.content) == (1, "", OVER_A_ROLL)

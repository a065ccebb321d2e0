"""Own movements in what leaves the records: named for others, and taken along into another practice."""

import json

import pytest

from tests.builders import empty_records, hire
from tests.cast import BELL_FOUNDER, JONAS, NOW
from tests.own_movements import OVER_A_ROLL, ROLL_ID, WALL_ID, routine_with_own
from webapp.library.faults import NotAcceptedError
from webapp.records import carrying, movements, routines
from webapp.sync.carrying import bring_in, fhir, own_file


@pytest.fixture
def out(db, hedda, ansgar):
    """The file of a client whose newest routine has two own movements."""
    routines.push(db, ansgar.id, routine_with_own(), BELL_FOUNDER.settings, "", hedda.id, NOW)
    return b"".join(own_file.write_file(db, carrying.keys(db), NOW))


@pytest.fixture
def other(tmp_path):
    """Another practice's database, with nobody in it but its practitioner."""
    there = empty_records(tmp_path / "other.db")
    yield there, hire(there, JONAS)
    there.close()


def test_the_own_movements_come_along_into_another_practice(out, other):
    there, jonas = other
    bring_in.bring_in(there, jonas.id, out)
    brought = movements.of_practice(there, jonas.practice)
    assert {each.public_id for each in brought} == {ROLL_ID, WALL_ID}
    assert movements.find(there, jonas.practice, ROLL_ID).content == OVER_A_ROLL


def test_a_movement_of_the_file_that_does_not_fit_is_named_and_nothing_is_taken(out, other):
    there, jonas = other
    changed = json.loads(out)
    changed["clients"][0]["versions"][1]["routine"]["own"][0]["name"] = "x" * 60
    with pytest.raises(NotAcceptedError) as error:
        bring_in.bring_in(there, jonas.id, json.dumps(changed).encode(), "file.json")
    assert [(fault.key, fault.code) for fault in error.value.faults] == [
        ("clients[1].versions.2.own[1].name", "too_long")
    ]
    assert movements.of_practice(there, jonas.practice) == []


def test_the_care_plan_names_them(db, ansgar, out):
    assert out
    bundle = json.loads(b"".join(fhir.write_bundle(db, ansgar.id, NOW)))
    plans = [each["resource"] for each in bundle["entry"] if each["resource"]["resourceType"] == "CarePlan"]
    named = [{each["detail"]["code"]["text"] for each in plan["activity"]} for plan in plans]
    assert "Palm down" in named[0]
    assert {"Palm down over a roll", "Palm at the wall"} <= named[1]
    assert "Palm down" not in named[1]

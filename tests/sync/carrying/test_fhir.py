"""A client as an HL7 FHIR R4B Bundle, read by the R4B models of fhir.resources.

The models check shapes and types, not the words that a field may have; those are checked here against the value sets of
https://hl7.org/fhir/R4B: observation-status, request-status, request-intent, questionnaire-answers-status,
administrative-gender, care-plan-activity-status.
"""

import json
from collections import Counter

import pytest
from fhir.resources.R4B.bundle import Bundle

from tests.builders import days_of, event, morning, screened
from tests.cast import FIRST_DAY, NOW
from webapp.sync.carrying import fhir

WORDS = {
    ("Observation", "status"): {"registered", "preliminary", "final", "amended"},
    ("CarePlan", "status"): {"draft", "active", "on-hold", "revoked", "completed"},
    ("CarePlan", "intent"): {"proposal", "plan", "order", "option"},
    ("QuestionnaireResponse", "status"): {"in-progress", "completed", "amended", "entered-in-error", "stopped"},
    ("Patient", "gender"): {"male", "female", "other", "unknown"},
}


@pytest.fixture
def diarist(db, ansgar, send):
    """The bell founder with something of each kind in the log."""
    send(
        ansgar,
        event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=80),
        screened(FIRST_DAY, "recent_surgery", seq=81),
        *days_of(FIRST_DAY, [(1, 2), (None, 3)]),
        event("warning_raised", FIRST_DAY, {"sign": "hot_swollen", "arms": ["right", "left"]}, seq=82),
        event("activity_rated", FIRST_DAY, {"activity": "Filing a bell", "rating": 4}, seq=83),
        event("activity_rated", FIRST_DAY, {"activity": "  ", "rating": 4}, seq=84),
        event("letter_written", FIRST_DAY, {"text": "Not for others"}, seq=85),
    )
    return ansgar


def bundle_of(db, client):
    raw = b"".join(fhir.write_bundle(db, client.id, NOW))
    return json.loads(raw), Bundle.model_validate_json(raw)


def test_the_models_read_every_resource_and_write_the_same(db, diarist):
    sent, read = bundle_of(db, diarist)
    # The models write no milliseconds where there are none.
    as_written = json.loads(json.dumps(sent).replace(".000Z", "Z"))
    assert json.loads(read.model_dump_json(exclude_none=True)) == as_written
    kinds = Counter(each["resource"]["resourceType"] for each in sent["entry"])
    assert kinds == {"Patient": 1, "CarePlan": 1, "QuestionnaireResponse": 1, "Observation": 8}


def test_every_word_is_of_its_value_set_and_every_reference_leads_to_the_patient(db, diarist):
    sent, _ = bundle_of(db, diarist)
    patient = sent["entry"][0]["fullUrl"]
    urls = [each["fullUrl"] for each in sent["entry"]]
    assert len(urls) == len(set(urls))
    for each in sent["entry"]:
        resource = each["resource"]
        for (kind, field), allowed in WORDS.items():
            assert resource["resourceType"] != kind or resource[field] in allowed
        assert resource["resourceType"] == "Patient" or resource["subject"] == {"reference": patient}


def test_pain_has_its_loinc_code_and_its_day(db, diarist):
    sent, _ = bundle_of(db, diarist)
    found = [
        (each["resource"]["effectiveDateTime"], each["resource"]["valueInteger"])
        for each in sent["entry"]
        if each["resource"].get("code", {}).get("coding", [{}])[0].get("code") == "72514-3"
    ]
    assert sorted(found) == [("2026-03-02", 1), ("2026-03-03", 2), ("2026-03-04", 3)]
    assert "Not for others" not in json.dumps(sent)


def test_a_corrected_number_is_told_as_it_was_corrected(db, diarist, send):
    first = morning(FIRST_DAY, 5, seq=90)
    fix = {"replaces": first["id"], "body": {**first["body"], "arms": {"right": {"pain": 2, "sharp": False}}}}
    send(diarist, first, event("entry_corrected", FIRST_DAY, fix, seq=91))
    values = [each["resource"].get("valueInteger") for each in bundle_of(db, diarist)[0]["entry"]]
    assert 5 not in values


def test_several_clients_are_one_bundle_a_line(db, diarist, isaura):
    lines = b"".join(fhir.write_bundles(db, [diarist.id, isaura.id], NOW)).splitlines()
    assert [Bundle.model_validate_json(line).type for line in lines] == ["collection", "collection"]

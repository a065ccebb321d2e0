"""One client's log cannot be folded: that client is named with what to do, and everybody else stands as usual."""

import csv
import json
import logging
from dataclasses import replace
from datetime import timedelta
from io import StringIO

import pytest
from fhir.resources.R4B.bundle import Bundle

from tests.builders import days_of, enrol, morning
from tests.cast import BELL_FOUNDER, FIRST_DAY
from tests.practice.caseload.test_who_needs_you import groups_on
from webapp.app import renew_rows
from webapp.library.faults import NotAcceptedError
from webapp.records import keeping
from webapp.records.database import write
from webapp.records.derived import drop_unless_made_by
from webapp.sync.carrying.bring_in import bring_in
from webapp.sync.case import retention
from webapp.sync.caseload.checks import troubles
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD
from webapp.sync.phone.serve import PhoneBatch, Speaker, answer_sync

DAMAGES = {
    "cut off": "UPDATE events SET raw = substr(raw, 1, 40) WHERE client = ? AND seq = 3",
    "no text": "UPDATE events SET raw = CAST(X'7B22FFFE' AS TEXT) WHERE client = ? AND seq = 3",
    "a version": "UPDATE routine_versions SET settings = '{}' WHERE client = ?",
}


def damage(site, how):
    """Damage the bell founder's log, beside a client who is well; of the founder nothing is worked out. Return the case's address."""
    well = enrol(site.db, site.hedda.id, replace(BELL_FOUNDER, name="Berta Quell", public_id="berta"))
    for client in (site.founder, well):
        site.begin(client, days_of(FIRST_DAY, [(1, 1)] * 7))
    drop_unless_made_by(site.db, "another program")
    with write(site.db):
        site.db.execute(DAMAGES[how], (site.founder.id,))
    return f"/practice/cases/{site.founder.public_id}"


def entries_of(site):
    return site.db.execute("SELECT COUNT(*) FROM events WHERE client = ?", (site.founder.id,)).fetchone()[0]


@pytest.mark.parametrize("how", DAMAGES)
def test_one_broken_log_is_named_with_what_to_do_and_everybody_else_stands_as_usual(site, hedda, how, caplog):
    broken = damage(site, how)
    with caplog.at_level(logging.ERROR):
        renew_rows(site.app, lambda _: False)
        renew_rows(site.app, lambda _: False)
    assert caplog.text.count("cannot be folded") == 1
    page = hedda.open("/practice")
    assert page.status_code == 200
    assert groups_on(page) == {"way": ["Berta Quell"], "new": ["Isaura Linde"]}
    assert f'<h2><a href="{broken}"><bdi>Ansgar Tolle</bdi></a></h2>' in page.text
    assert f"“halfturn check” says what is damaged; this client is number {site.founder.id} there" in hedda.text
    for path in ("", "/routine", "/account", "/seen"):
        assert hedda.open(broken + path).status_code == 500
        assert "The log of this client cannot be read" in hedda.text
        assert f'href="{broken}/records.json"' in hedda.page.text
    found = troubles(site.db)
    assert {trouble.gaps["client"] for trouble in found} == {site.founder.id}
    assert "unreadable" in {trouble.code for trouble in found}


@pytest.mark.parametrize("how", ["cut off", "no text"])
def test_files_to_take_away_are_whole_and_hold_the_damaged_entry_apart(site, hedda, how):
    broken = damage(site, how)
    (client,) = json.loads(hedda.open(f"{broken}/records.json").data)["clients"]
    assert len(client["damaged"]) == 1
    assert len(client["entries"]) == entries_of(site) - 1
    for form in ("csv", "fhir"):
        assert hedda.open(f"{broken}/records.{form}").status_code == 500
        assert "The log of this client cannot be read" in hedda.text
    everybody = json.loads(hedda.open("/practice/records/clients.json").data)["clients"]
    assert [each["client"]["name"] for each in everybody] == ["Ansgar Tolle", "Isaura Linde", "Berta Quell"]
    rows = list(csv.DictReader(StringIO(hedda.open("/practice/records/clients.csv").text)))
    assert [row["on"] for row in rows if row["name"] == "Ansgar Tolle"] == ["unreadable"]
    assert sum(row["name"] == "Berta Quell" for row in rows) == 7
    lines = hedda.open("/practice/records/clients.ndjson").text.splitlines()
    bundles = [Bundle.model_validate_json(line) for line in lines]
    kinds = [[each.resource.get_resource_type() for each in bundle.entry] for bundle in bundles]
    assert kinds[0] == ["Patient", "OperationOutcome"]
    assert "OperationOutcome" not in kinds[1] + kinds[2]


def test_a_file_with_a_damaged_entry_is_not_taken_in(site, hedda):
    broken = damage(site, "cut off")
    text = hedda.open(f"{broken}/records.json").text.replace(site.founder.public_id, "another")
    with pytest.raises(NotAcceptedError) as refused:
        bring_in(site.db, site.hedda.id, text.encode())
    assert [fault.key for fault in refused.value.faults] == ["clients[1].damaged[1]"]


def test_a_phone_s_entries_are_stored_though_an_old_entry_of_the_practice_is_damaged(site):
    damage(site, "cut off")
    with write(site.db):
        site.db.execute(
            "UPDATE events SET kind = 'letter_seen', raw = '{\"bo' WHERE client = ? AND seq = 3", (site.founder.id,)
        )
    before = entries_of(site)
    who = Speaker(site.founder.id, site.founder.public_id, "Ansgar Tolle", site.join_phone(site.founder))
    entry = json.dumps(morning(FIRST_DAY + timedelta(days=7), 2, seq=77)).encode()
    with pytest.raises(FAULTS_OF_A_FOLD):
        answer_sync(site.db, who, PhoneBatch(site.clock().date(), "en", None, 0, None, [entry]), site.clock())
    assert entries_of(site) == before + 1


@pytest.mark.parametrize("raw", ['{"bo', "{}"])
def test_a_damaged_course_stops_neither_the_page_of_the_records_nor_the_removal_of_others(site, hedda, raw):
    damage(site, "cut off")
    with write(site.db):
        site.db.execute(
            "UPDATE events SET kind = 'course_set', raw = ? WHERE client = ? AND seq = 3", (raw, site.founder.id)
        )
    keeping.choose_years(site.db, site.hedda.practice, 2)
    assert hedda.open("/practice/records").status_code == 200
    assert "/practice/records/clients.json" in hedda.page.text
    assert retention.remove_due(site.db, site.clock().replace(year=2040)) == 0
    assert entries_of(site) > 0

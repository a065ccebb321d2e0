"""The records at the desk: files to take away, and how long who has ended is kept."""

import csv
import json
from io import StringIO

import pytest
from fhir.resources.R4B.bundle import Bundle

from tests.builders import days_of
from tests.cast import FIRST_DAY, HEDDA, JONAS
from webapp.records import keeping, removal


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 2), (2, 3)]))
    return f"/practice/cases/{site.founder.public_id}"


def test_one_client_is_carried_out_in_three_forms(site, hedda, path):
    hedda.open(path)
    assert hedda.page.text.count(" download>") == 3
    whole = hedda.open(f"{path}/records.json")
    assert whole.headers["Content-Disposition"] == 'attachment; filename="halfturn-ansgar0001.json"'
    assert [each["client"]["name"] for each in json.loads(whole.data)["clients"]] == ["Ansgar Tolle"]
    rows = list(csv.DictReader(StringIO(hedda.open(f"{path}/records.csv").text)))
    assert [row["on"] for row in rows] == ["2026-03-02", "2026-03-03"]
    bundle = Bundle.model_validate_json(hedda.open(f"{path}/records.fhir").data)
    assert len(bundle.entry) > 5
    assert hedda.page.headers["Cache-Control"] == "no-store"


def test_all_own_clients_are_carried_out_and_no_colleague_s(site, hedda, path):
    page = hedda.open("/practice/records").text
    for form in ("json", "csv", "ndjson"):
        assert f"clients.{form}" in page
        text = hedda.open(f"/practice/records/clients.{form}").text
        assert "Ansgar Tolle" in text
        assert "Livia Korn" not in text
    names = [
        each["client"]["name"] for each in json.loads(hedda.open("/practice/records/clients.json").data)["clients"]
    ]
    assert names == ["Ansgar Tolle", "Isaura Linde"]


def test_an_owner_takes_the_whole_practice_along_and_everybody_there_reads_of_it(site, hedda, visitor, path):
    with site.db.conn:
        site.db.execute(
            "UPDATE practitioners SET practice = ?, role = 'member' WHERE email = ?", (site.hedda.practice, JONAS.email)
        )
    visitor.sign_in(JONAS.email, JONAS.password)
    page = hedda.open("/practice/records").text
    for form in ("json", "csv", "ndjson"):
        assert f"practice.{form}" in page
        text = hedda.open(f"/practice/records/practice.{form}").text
        assert "Ansgar Tolle" in text
        assert ("Livia Korn" in text) == (form != "csv"), "she has no day yet, so no row"
    assert visitor.open("/practice/records/practice.json").status_code == 404
    assert "practice.json" not in visitor.open("/practice/records").text
    visitor.open("/practice/staff/history")
    assert "took the records of all clients of the practice along as a file" in visitor.text
    assert "all own clients" not in visitor.text


def test_another_s_client_and_an_unknown_form_are_not_found(site, hedda, path):
    assert hedda.open(f"/practice/cases/{site.organ_builder.public_id}/records.json").status_code == 404
    assert hedda.open(f"{path}/records.xml").status_code == 404
    assert hedda.open("/practice/records/clients.fhir").status_code == 404


def test_a_stranger_gets_no_file(site, visitor, path):
    assert visitor.open(f"{path}/records.json").status_code == 303
    assert visitor.open("/practice/records/clients.json").status_code == 303


def test_an_owner_sets_how_long_and_sees_what_was_removed(site, hedda, path):
    hedda.open("/practice/records")
    assert hedda.form().to_dict()["keep_years"] == "never"
    assert hedda.fill("", {"keep_years": "7"}, post_to="/practice/records").status_code == 200
    house = site.db.execute("SELECT practice FROM practitioners WHERE id = ?", (site.hedda.id,)).fetchone()[0]
    assert keeping.years_of(site.db, house) == 7
    assert hedda.fill("", {"keep_years": "99"}, post_to="/practice/records").status_code == 400
    assert keeping.years_of(site.db, house) == 7
    removal.remove(site.db, site.cellist.id, "asked", site.clock())
    hedda.open("/practice/records")
    assert "on request, 0 entries, 1 routine version" in hedda.text


def test_a_member_sees_how_long_and_changes_nothing(site, hedda, path):
    with site.db.conn:
        site.db.execute("UPDATE practitioners SET role = 'member' WHERE id = ?", (site.hedda.id,))
    hedda.open("/practice/records")
    assert "never by itself" in hedda.text
    token = hedda.client.get("/practice/account").text.partition('name="csrf_token" value="')[2].partition('"')[0]
    assert hedda.send("/practice/records", {"csrf_token": token, "keep_years": "2"}).status_code == 404


def test_the_page_names_who_is_kept_though_silent_for_years(site, hedda, path):
    keeping.choose_years(site.db, site.hedda.practice, 2)
    hedda.open("/practice/records")
    assert "Kept, since no end was set" not in hedda.text
    site.clock.pass_by(days=800)
    hedda.sign_in(HEDDA.email, HEDDA.password)
    hedda.open("/practice/records")
    assert "Who is only silent, or in the archive, is kept" in hedda.text
    assert "Ansgar Tolle : last entry on Wed 4 Mar 2026" in hedda.text

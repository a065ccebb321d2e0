"""A rest until a day: set on the case page, an entry of the log, over by itself; and what a half or a double form does."""

import json
from datetime import date

import pytest

from tests.builders import days_of
from tests.cast import FIRST_DAY
from webapp.records import events
from webapp.sync.folding.fold import accounts_of

ENTRIES = {"rest-rest_until": "2026-03-12", "rest-rest_reason": "You have a fever. Rest until Thursday."}


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)] * 7))
    return f"/practice/cases/{site.founder.public_id}"


def _entries(hedda, path, **changes):
    hedda.open(path)
    return hedda.form("/rest").to_dict() | ENTRIES | changes


def _courses_set(site):
    return [json.loads(each.raw) for each in events.of_kind(site.db, site.founder.id, "course_set")]


def test_a_rest_is_an_entry_of_the_log_and_stands_in_head_and_caseload(site, hedda, path):
    assert hedda.send(f"{path}/rest", _entries(hedda, path), follow=True).status_code == 200
    assert "The client rests until Thu 12 Mar 2026." in hedda.text
    assert "Rests until Thu 12 Mar 2026" in hedda.text
    (entry,) = _courses_set(site)
    assert entry["on"] == "2026-03-09"
    assert entry["body"] == {
        "to": "rest",
        "until": "2026-03-12",
        "reason": ENTRIES["rest-rest_reason"],
        "by": "Hedda Marrow",
    }


def test_a_rest_changes_no_state(site, hedda, path):
    before = accounts_of(site.db, site.founder.id, date(2026, 3, 9))["right"].state
    hedda.send(f"{path}/rest", _entries(hedda, path))
    assert accounts_of(site.db, site.founder.id, date(2026, 3, 9))["right"].state == before


def test_a_form_sent_twice_writes_once_and_an_older_page_writes_nothing(site, hedda, path):
    entries = _entries(hedda, path)
    for _ in range(2):
        assert hedda.send(f"{path}/rest", entries, follow=True).status_code == 200
    assert len(_courses_set(site)) == 1
    other = entries | {"rest-rest_until": "2026-03-20"}
    assert hedda.send(f"{path}/rest", other, follow=True).status_code == 400
    assert "another course was set" in hedda.text
    assert ENTRIES["rest-rest_reason"] in hedda.text
    assert len(_courses_set(site)) == 1


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"rest-rest_until": "2026-03-09"}, "Rest until:"),
        ({"rest-rest_until": "2026-05-09"}, "Rest until:"),
        ({"rest-rest_until": ""}, "Rest until: this is needed"),
        ({"rest-rest_reason": " "}, "Why: the client reads it: this is needed"),
        ({"rest-rest_reason": "x" * 281}, "281 characters are too many"),
    ],
)
def test_a_day_out_of_bounds_or_no_reason_is_refused_beside_its_field(site, hedda, path, change, fault):
    assert hedda.send(f"{path}/rest", _entries(hedda, path, **change), follow=True).status_code == 400
    assert fault in hedda.text
    assert not _courses_set(site)


def test_nobody_sets_a_rest_for_another_practitioners_client(site, hedda, path):
    entries = _entries(hedda, path)
    assert hedda.send(f"/practice/cases/{site.organ_builder.public_id}/rest", entries).status_code == 404

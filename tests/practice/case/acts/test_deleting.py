"""Deleting a client: only by the name typed in full, only one's own, and then nothing of the person is there."""

import pytest

from tests.builders import days_of
from tests.cast import FIRST_DAY
from webapp.records import history, private_notes, removal


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)]))
    private_notes.add(site.db, site.founder.id, "Mine alone.", site.hedda.id, "a key", site.clock())
    return f"/practice/cases/{site.founder.public_id}"


def _delete(hedda, path, name):
    hedda.open(f"{path}/delete")
    return hedda.send(f"{path}/delete", hedda.form().to_dict() | {"typed_name": name}, follow=True)


def _rows(site):
    return site.db.execute("SELECT COUNT(*) FROM clients WHERE id = ?", (site.founder.id,)).fetchone()[0]


def test_the_page_says_what_goes_and_what_is_kept(hedda, path):
    hedda.open(f"{path}/delete")
    assert "1 private note." in hedda.text
    assert "One row without a person" in hedda.text


def test_the_name_typed_deletes_the_client_and_the_history_names_nobody(site, hedda, path):
    name = "Ansgar Tolle"
    assert _delete(hedda, path, name).status_code == 200
    assert "The client is deleted." in hedda.text
    assert name not in hedda.text
    assert _rows(site) == 0
    assert removal.removals(site.db)[0].why == "asked"
    last = history.of_practice(site.db, site.hedda.practice, 10**9, 1)[0]
    assert (last.act, last.client) == ("practice.case.delete", "")
    assert hedda.open(path).status_code == 404


@pytest.mark.parametrize("name", ["", "Ansgar", "ansgar tolle"])
def test_any_other_name_deletes_nothing(site, hedda, path, name):
    assert _delete(hedda, path, name).status_code == 400
    assert _rows(site) == 1


def test_nobody_deletes_another_practitioners_client(site, hedda, path):
    other = f"/practice/cases/{site.organ_builder.public_id}/delete"
    hedda.open(f"{path}/delete")
    assert hedda.send(other, hedda.form().to_dict() | {"typed_name": "Livia Strand"}).status_code == 404

"""Private notes: dated and signed, struck out but never gone, and nothing that a phone could read."""

import re

import pytest

from tests.builders import days_of
from tests.cast import FIRST_DAY
from webapp.records import events, private_notes


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)]))
    return f"/practice/cases/{site.founder.public_id}"


def _write(hedda, path, text, **changes):
    hedda.open(path)
    entries = hedda.form("/notes").to_dict() | {"note-private_note": text} | changes
    return hedda.send(f"{path}/notes", entries, follow=True), entries


def _strike(hedda, path):
    (action,) = set(re.findall(r'action="([^"]*/strike)"', hedda.page.text))
    return hedda.send(action, hedda.form("/strike"), follow=True)


def test_a_note_stands_with_author_and_date_and_no_phone_can_read_it(site, hedda, path):
    before = events.newest_seq(site.db, site.founder.id)
    answer, _ = _write(hedda, path, "Sleeps badly; ask again.")
    assert answer.status_code == 200
    assert "Sleeps badly; ask again." in hedda.text
    assert "Hedda Marrow Mon 9 Mar 2026" in hedda.text
    assert events.newest_seq(site.db, site.founder.id) == before


def test_a_note_that_is_struck_out_still_says_what_it_was_and_by_whom(site, hedda, path):
    _write(hedda, path, "Sleeps badly.")
    assert _strike(hedda, path).status_code == 200
    assert "Struck out by Hedda Marrow" in hedda.text
    assert "<s>Sleeps badly.</s>" in hedda.page.text
    (note,) = private_notes.of_client(site.db, site.founder.id)
    assert (note.text, note.struck_by) == ("Sleeps badly.", "Hedda Marrow")


def test_the_same_form_sent_twice_writes_one_note(site, hedda, path):
    _, entries = _write(hedda, path, "Once.")
    hedda.send(f"{path}/notes", entries)
    assert len(private_notes.of_client(site.db, site.founder.id)) == 1


@pytest.mark.parametrize(("text", "fault"), [(" ", "this is needed"), ("x" * 2001, "2001 characters are too many")])
def test_an_empty_or_endless_note_is_refused_and_kept_in_the_form(site, hedda, path, text, fault):
    answer, _ = _write(hedda, path, text)
    assert answer.status_code == 400
    assert fault in hedda.text.replace(",", "")
    assert not private_notes.of_client(site.db, site.founder.id)


def test_nobody_strikes_out_or_writes_on_another_practitioners_client(site, hedda, path):
    _, entries = _write(hedda, path, "Mine.")
    other = f"/practice/cases/{site.organ_builder.public_id}"
    assert hedda.send(f"{other}/notes", entries).status_code == 404
    assert hedda.send(f"{other}/notes/1/strike", entries).status_code == 404


def test_a_note_of_another_client_is_not_struck_out(site, hedda, path):
    private_notes.add(site.db, site.cellist.id, "Hers.", site.hedda.id, "a key", site.clock())
    _write(hedda, path, "His.")
    hedda.send(f"{path}/notes/1/strike", hedda.form("/strike"), follow=True)
    assert private_notes.of_client(site.db, site.cellist.id)[0].struck_at is None

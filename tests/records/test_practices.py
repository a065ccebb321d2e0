"""Practices in the records: how an older database comes by them, and what a restore leaves of members."""

from pathlib import Path

from tests.builders import empty_records, let_in
from tests.cast import HEDDA, JONAS, NOW
from webapp.records import acts, members, new_life, practices, practitioners
from webapp.records.database import Database, open_records, with_settings, write
from webapp.records.making import prepare_records
from webapp.records.migrations import migrations


def _before_practices(path: Path) -> Database:
    """A database with every table from before there were practices, and two practitioners in it."""
    db = with_settings(Database(path, "rwc"))
    with write(db):
        migrations.apply(db, stop_before="practices")
        for person in (HEDDA, JONAS):
            db.execute(
                "INSERT INTO practitioners (name, email, password_hash, created_at) VALUES (?, ?, 'x', '2026')",
                (person.name, person.email),
            )
    return db


def test_each_practitioner_of_an_older_database_becomes_the_owner_of_a_practice_of_their_own(tmp_path):
    _before_practices(tmp_path / "old.db").conn.close()
    prepare_records(tmp_path / "old.db")
    db = open_records(tmp_path / "old.db")
    hedda, jonas = (practitioners.with_password(db, person.email)[0] for person in (HEDDA, JONAS))
    assert (hedda.is_owner, jonas.is_owner) == (True, True)
    assert hedda.practice != jonas.practice
    assert [each.name for each in practices.colleagues(db, hedda.practice)] == [HEDDA.name]


def _with_a_member(path: Path) -> tuple[Database, int, int]:
    db = empty_records(path)
    owner = practitioners.add(db, HEDDA.name, HEDDA.email, "x", NOW)
    member = members.add(db, owner.practice, "Signe", "signe@marrow.example", NOW)
    let_in(db, member, code_hash="no real hash")
    return db, owner.practice, member


def test_who_was_removed_after_the_copy_stays_removed_after_the_restore(tmp_path):
    db, practice, member = _with_a_member(tmp_path / "halfturn.db")
    copy = Database(tmp_path / "copy.db", "rwc")
    db.conn.backup(copy.conn)
    members.remove(db, practice, member, NOW)
    new_life.begin(copy, acts.read(db.path), NOW)
    assert practitioners.with_password(copy, "signe@marrow.example") is None
    assert practitioners.with_password(copy, HEDDA.email) is not None


def test_where_nobody_knows_who_has_left_each_member_needs_a_new_link(tmp_path):
    db, practice, member = _with_a_member(tmp_path / "halfturn.db")
    unused = members.make_link(db, member, NOW)
    new_life.begin(db, [], NOW)
    assert members.invited_by(db, unused.token, NOW) is None
    assert practitioners.with_password(db, "signe@marrow.example") is None
    assert [each.has_password for each in practices.colleagues(db, practice)] == [True, False]

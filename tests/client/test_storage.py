"""What the server answers to a phone while it cannot store anything: it never says that an event was stored."""

import logging
import stat

import pytest

from tests.builders import session
from tests.cast import FIRST_DAY
from webapp.app import create_app
from webapp.config import Settings
from webapp.records import events
from webapp.records.database import open_records, write
from webapp.records.faults import RecordsError
from webapp.records.private import companions

NOT_KEPT = (503, "nothing_kept", True)


def _told(answer):
    error = answer.json["error"]
    return answer.status_code, error["code"], error["again"]


def _entry(seq):
    return session(FIRST_DAY, 1, seq=seq)


def test_nothing_is_acknowledged_once_the_file_is_deleted(phone, db_path, caplog):
    assert phone.sync(_entry(1)).json["results"][0]["status"] == "stored"
    db_path.unlink()
    with caplog.at_level(logging.ERROR):
        assert _told(phone.sync(_entry(2))) == NOT_KEPT
    assert "was taken away while it was served" in caplog.text
    assert not db_path.exists(), "and no empty one was made in silence"


def test_nothing_is_acknowledged_once_another_file_lies_there(phone, db, db_path, caplog):
    db.execute("VACUUM INTO ?", [str(db_path.with_name("other.db"))])
    db_path.with_name("other.db").replace(db_path)
    with caplog.at_level(logging.ERROR):
        assert _told(phone.sync(_entry(1))) == NOT_KEPT
    assert "Another file was put in the place" in caplog.text
    for left in companions(db_path):
        left.unlink(missing_ok=True)
    assert events.newest_seq(open_records(db_path), 1) == 0


def test_a_full_disk_is_no_fault_of_the_entry_and_the_next_one_is_kept(app, phone, ansgar, caplog):
    kept = app.extensions["halfturn"].db()
    pages = kept.execute("PRAGMA page_count").fetchone()[0]
    kept.execute(f"PRAGMA max_page_count = {pages}")
    sent = [session(FIRST_DAY, 1, seq=seq, note="x" * 250) for seq in range(1, 60)]
    with caplog.at_level(logging.ERROR):
        assert _told(phone.sync(*sent)) == NOT_KEPT
    assert "database or disk is full" in caplog.text
    kept.execute(f"PRAGMA max_page_count = {pages * 100}")
    assert {each["status"] for each in phone.sync(*sent).json["results"]} == {"stored"}
    assert events.newest_seq(kept, ansgar.id) == 59


def _spoil(path, table):
    """Overwrite the first page of a table with zeros."""
    db = open_records(path)
    page = db.execute("SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)).fetchone()[0]
    size = db.execute("PRAGMA page_size").fetchone()[0]
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    db.conn.close()
    with path.open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(b"\0" * size)


def test_a_damaged_page_is_said_in_a_sentence_and_noted(app, phone, db, db_path, caplog):
    db.conn.close()
    kept = app.extensions["halfturn"]
    kept.db().conn.close()
    del kept._threads.db
    _spoil(db_path, "events")
    with caplog.at_level(logging.ERROR):
        assert _told(phone.sync(_entry(1))) == NOT_KEPT
    assert "malformed" in caplog.text
    assert "Traceback" not in caplog.text


def test_a_fault_of_the_program_is_still_one(app):
    @app.get("/broken")
    def broken():
        with write(app.extensions["halfturn"].db()) as db:
            db.execute("INSERT INTO folded (client, through_seq, day, accounts) VALUES (77, 0, '2026-03-02', '{}')")

    assert app.test_client().get("/broken").status_code == 500


@pytest.mark.parametrize("key", ["", "ab", "x" * 64], ids=["empty", "two letters", "not hexadecimal"])
def test_a_key_that_could_be_guessed_signs_nothing(db, db_path, key):
    with write(db):
        db.execute("UPDATE settings SET value = ? WHERE key = 'secret_key'", (key,))
    with pytest.raises(RecordsError, match="weak_key"):
        create_app(Settings(db=db_path))


def test_an_application_makes_no_database_by_itself(db_path):
    with pytest.raises(RecordsError, match="missing"):
        create_app(Settings(db=db_path))
    assert not db_path.exists()


def test_the_files_are_their_owner_s_alone(app, phone, db_path):
    phone.sync(_entry(1))
    for path in (db_path, *db_path.parent.glob(f"{db_path.name}-*"), *db_path.parent.glob("*.acts")):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600, path.name

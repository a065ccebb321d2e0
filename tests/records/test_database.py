import logging
import sqlite3
import threading
from datetime import UTC, datetime, timedelta, timezone

import pytest

from webapp.records.database import Database, choose_journal, instant, is_free_of_wal_fault, open_records, write
from webapp.records.faults import RecordsError
from webapp.records.making import make_records
from webapp.records.soundness import check_takes_writes

MENDED = (3, 53, 4)
FAULTY = (3, 40, 1)


def _setting(db, name):
    return db.execute(f"PRAGMA {name}").fetchone()[0]


@pytest.mark.parametrize("version", [(3, 44, 6), (3, 44, 9), (3, 50, 7), (3, 51, 3), (3, 52, 0), (3, 53, 4), (4, 0, 0)])
def test_a_mended_sqlite_may_have_a_write_ahead_log(version):
    assert is_free_of_wal_fault(version)


@pytest.mark.parametrize("version", [(3, 7, 0), (3, 40, 1), (3, 44, 5), (3, 45, 0), (3, 50, 6), (3, 51, 2)])
def test_a_faulty_sqlite_may_not(version):
    assert not is_free_of_wal_fault(version)


def test_a_file_gets_a_write_ahead_log_only_where_it_is_safe(db, caplog):
    assert choose_journal(db, MENDED) == "wal"
    assert not caplog.records
    with caplog.at_level(logging.WARNING):
        assert choose_journal(db, FAULTY) == "delete"
    assert [record.message for record in caplog.records] == [
        "SQLite 3.40.1 can damage a write-ahead log (mended in 3.51.3, 3.50.7 and 3.44.6): using a rollback journal."
    ]


def test_an_acknowledged_event_is_flushed_to_the_disk(db):
    assert _setting(db, "synchronous") == 2
    assert _setting(db, "foreign_keys") == 1
    assert _setting(db, "busy_timeout") == 10_000
    assert _setting(db, "wal_autocheckpoint") == 1000


def test_every_table_of_ours_is_strict(db):
    listed = {row[1]: row[5] for row in db.execute("PRAGMA table_list").fetchall() if row[2] == "table"}
    ours = {name: strict for name, strict in listed.items() if not name.startswith(("sqlite_", "_sqlite"))}
    assert len(ours) >= 14
    assert set(ours.values()) == {1}


def test_preparing_a_file_twice_changes_nothing(db_path):
    make_records(db_path)
    before = [row[0] for row in open_records(db_path).execute("SELECT value FROM settings ORDER BY key").fetchall()]
    make_records(db_path)
    after = [row[0] for row in open_records(db_path).execute("SELECT value FROM settings ORDER BY key").fetchall()]
    assert before == after


def test_several_starts_at_once_may_prepare_one_file(db_path):
    faults = []

    def prepare():
        try:
            make_records(db_path)
        except Exception as error:  # noqa: BLE001 - whatever goes wrong is the finding
            faults.append(error)

    threads = [threading.Thread(target=prepare) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert "events" in open_records(db_path).table_names()


def test_a_write_that_fails_leaves_nothing_behind(db):
    def half_done():
        with write(db):
            db.execute("INSERT INTO settings (key, value) VALUES ('half', 'done')")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_done()
    assert db.execute("SELECT COUNT(*) FROM settings WHERE key = 'half'").fetchone()[0] == 0
    assert not db.conn.in_transaction


def test_a_write_inside_a_write_is_refused_and_not_waited_for(db):
    with pytest.raises(RuntimeError, match="a write inside a write"), write(db), write(db):
        pass
    with write(db):
        db.execute("INSERT INTO settings (key, value) VALUES ('next', 'works')")


def test_a_read_before_a_write_does_not_lose_against_another_writer(db_path, db):
    other = open_records(db_path)
    db.execute("SELECT COUNT(*) FROM settings").fetchone()
    with write(other):
        other.execute("INSERT INTO settings (key, value) VALUES ('a', '1')")
    with write(db):
        db.execute("INSERT INTO settings (key, value) VALUES ('b', '2')")
    assert db.execute("SELECT COUNT(*) FROM settings WHERE key IN ('a', 'b')").fetchone()[0] == 2


def test_foreign_keys_hold(db):
    with pytest.raises(Exception, match="FOREIGN KEY"), write(db):
        db.execute("INSERT INTO folded (client, through_seq, day, accounts) VALUES (77, 0, '2026-03-02', '{}')")


def test_instants_are_stored_in_one_zone_so_that_text_order_is_time_order():
    noon = datetime(2026, 3, 2, 12, tzinfo=UTC)
    later_elsewhere = (noon + timedelta(seconds=1)).astimezone(timezone(timedelta(hours=-9)))
    assert instant(noon) == "2026-03-02T12:00:00.000Z"
    assert instant(noon) < instant(later_elsewhere)


def test_a_file_that_cannot_be_opened_is_a_sentence(db_path):
    with pytest.raises(RecordsError, match=r"unreadable .*unable to open database file"):
        Database(db_path)
    with pytest.raises(RecordsError, match="missing"):
        open_records(db_path)


def test_a_file_that_takes_no_writes_is_found_out_before_it_is_served(db, db_path):
    only_read = Database(db_path, "ro")
    with pytest.raises(RecordsError, match=r"read_only .*attempt to write a readonly database"):
        check_takes_writes(only_read)
    only_read.close()
    check_takes_writes(db)


def test_the_standard_library_can_open_the_file_too(db_path, db):
    plain = sqlite3.connect(db_path)
    assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    plain.close()

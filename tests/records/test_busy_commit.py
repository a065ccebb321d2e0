"""A COMMIT that fails while another connection reads, as with a rollback journal: the next write must work again."""

import pytest

from webapp.records.database import choose_journal, open_records, write

FAULTY = (3, 40, 1)


def _put(db, key):
    with write(db):
        db.execute("INSERT INTO settings (key, value) VALUES (?, '1')", (key,))


def test_a_busy_commit_undoes_its_write_and_the_next_one_works(db_path, db):
    assert choose_journal(db, FAULTY) == "delete"
    reader = open_records(db_path)
    db.execute("PRAGMA busy_timeout = 0")
    reading = reader.execute("SELECT key FROM settings")
    assert reading.fetchone()
    with pytest.raises(Exception, match="database is locked"):
        _put(db, "first")
    assert not db.conn.in_transaction
    reading.close()
    _put(db, "second")
    kept = [row[0] for row in reader.execute("SELECT key FROM settings WHERE key IN ('first', 'second')").fetchall()]
    assert kept == ["second"]

"""Opening the SQLite file with the settings that keep an acknowledged event, and writing to it.

Knows SQLite and its faults; no table.
"""

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from sqlite_utils import Database
from sqlite_utils.utils import sqlite3  # type: ignore[attr-defined] # whichever SQLite it found

__all__ = ["Database", "choose_journal", "instant", "is_free_of_wal_fault", "open_records", "write"]

_log = logging.getLogger(__name__)

BUSY_MILLISECONDS = 10_000
CHECKPOINT_PAGES = 1000
# https://www.sqlite.org/wal.html#walresetbug: two connections that write and checkpoint at the same
# instant can corrupt the file. Since 3.7.0; mended in these, each on its own branch, and in all later ones.
MENDED_ON_BRANCH = ((3, 44, 6), (3, 50, 7))
MENDED_SINCE = (3, 51, 3)

# Threads of one process take turns here, because SQLite's own waiting is by sleep and starves some.
_turn = threading.Lock()


def is_free_of_wal_fault(version: tuple[int, ...]) -> bool:
    """Say whether a version of SQLite may be trusted with a write-ahead log."""
    return version >= MENDED_SINCE or any(
        version[:2] == mended[:2] and version >= mended for mended in MENDED_ON_BRANCH
    )


def open_records(path: Path | str) -> Database:
    """Open the records for one thread.

    Args:
        path: The SQLite file; made if it is missing.

    Returns:
        A connection that waits its turn, checks foreign keys and flushes at every commit.
    """
    db = Database(path)
    db.execute(f"PRAGMA busy_timeout = {BUSY_MILLISECONDS}")
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("PRAGMA synchronous = FULL")
    db.execute(f"PRAGMA wal_autocheckpoint = {CHECKPOINT_PAGES}")
    return db


def choose_journal(db: Database, version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str:
    """Set the file's journal once, before serving: a write-ahead log only where it is safe.

    Args:
        db: The records, open nowhere else.
        version: The SQLite in use.

    Returns:
        The mode that the file now has: "wal" or "delete".
    """
    if is_free_of_wal_fault(version):
        return str(db.execute("PRAGMA journal_mode = WAL").fetchone()[0])
    _log.warning(
        "SQLite %s can damage a write-ahead log (mended in 3.51.3, 3.50.7 and 3.44.6): using a rollback journal.",
        ".".join(map(str, version)),
    )
    return str(db.execute("PRAGMA journal_mode = DELETE").fetchone()[0])


@contextmanager
def write(db: Database) -> Iterator[Database]:
    """Write in one transaction that has the write lock from its first moment; all or nothing.

    A deferred BEGIN that reads first fails at once when another writer comes between, however long
    the timeout; so every write goes through here, and none is nested.
    """
    if db.conn.in_transaction:
        raise RuntimeError("a write inside a write: give the inner one the outer one's transaction")
    with _turn:
        db.execute("BEGIN IMMEDIATE")
        try:
            yield db
        except BaseException:
            db.conn.rollback()
            raise
        db.conn.commit()


def instant(at: datetime) -> str:
    """Write an instant as stored: UTC, to the millisecond, so that text order is time order."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

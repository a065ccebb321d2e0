"""Opening the SQLite file with the settings that keep an acknowledged event, and writing to it.

Knows SQLite and its faults; no table.
"""

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import sqlite_utils
from sqlite_utils.utils import sqlite3  # type: ignore[attr-defined] # whichever SQLite it found

from webapp.records.faults import RecordsError

_log = logging.getLogger(__name__)

BUSY_MILLISECONDS = 10_000
CHECKPOINT_PAGES = 1000
SETTINGS = (
    f"busy_timeout = {BUSY_MILLISECONDS}",
    "foreign_keys = ON",
    "synchronous = FULL",
    f"wal_autocheckpoint = {CHECKPOINT_PAGES}",
)
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


StorageError: type[Exception] = sqlite3.DatabaseError
# Of these the program is guilty, never the disk.
_OUR_FAULTS = (
    sqlite3.IntegrityError,
    sqlite3.ProgrammingError,
    sqlite3.DataError,
    sqlite3.InternalError,
    sqlite3.NotSupportedError,
)


def is_of_storage(error: Exception) -> bool:
    """Say whether an error of SQLite comes from the file or the disk: full, damaged, locked, write-protected."""
    return isinstance(error, StorageError) and not isinstance(error, _OUR_FAULTS)


class Database(sqlite_utils.Database):
    """A connection that knows which file it opened, so that it notices when another lies there.

    Attributes:
        path: The file.
        after_commit: What a write leaves to be done once it is safe, before anybody is told of it.
    """

    def __init__(self, path: Path, mode: str = "rw") -> None:
        """Open a file: "rw" opens what is there, "rwc" makes it where it is missing, "ro" only reads.

        Raises:
            RecordsError: `unreadable`: this user may not open it, or there is none.
        """
        try:
            conn = sqlite3.connect(f"{path.absolute().as_uri()}?mode={mode}", uri=True)
        except StorageError as error:
            raise RecordsError("unreadable", path=path, why=error) from error
        super().__init__(conn)
        self.path = path.absolute()
        self.after_commit: list[Callable[[], None]] = []
        self._file = file_at(self.path)

    def check_file(self, first: tuple[int, int] | None = None) -> None:
        """Look whether the file that was opened still lies where it lay.

        Args:
            first: The file that must lie there, as of `file_at`; the one that was opened if not given.

        Raises:
            RecordsError: `gone` or `replaced`: what is written now would be lost.
        """
        found = file_at(self.path)
        if found is None:
            raise RecordsError("gone", path=self.path)
        if found != self._file or self._file != (first or self._file):
            raise RecordsError("replaced", path=self.path)


def file_at(path: Path) -> tuple[int, int] | None:
    """Return what tells the file at a path from every other, or None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def open_records(path: Path | str) -> Database:
    """Open the records for one thread.

    Args:
        path: The SQLite file.

    Returns:
        A connection that waits its turn, checks foreign keys and flushes at every commit.

    Raises:
        RecordsError: `missing`: there is no such file, and none is made; `unreadable`.
    """
    if not Path(path).is_file():
        raise RecordsError("missing", path=path)
    return with_settings(Database(Path(path)))


def with_settings(db: Database) -> Database:
    """Set what every connection that writes must have set.

    Raises:
        RecordsError: `unreadable`: this is no database, or no whole one.
    """
    try:
        for pragma in SETTINGS:
            db.execute(f"PRAGMA {pragma}")
    except StorageError as error:
        db.close()
        raise RecordsError("unreadable", path=db.path, why=error) from error
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
    the timeout; so every write goes through here, and none is nested. In a rollback journal a COMMIT
    itself may find the file busy; then all of it is undone.

    Raises:
        RecordsError: The file is gone, or another lies in its place; nobody may be told that this was written.
    """
    if db.conn.in_transaction:
        raise RuntimeError("a write inside a write: give the inner one the outer one's transaction")
    with _turn:
        db.check_file()
        db.execute("BEGIN IMMEDIATE")
        try:
            yield db
            db.conn.commit()
        except BaseException:
            db.after_commit.clear()
            db.conn.rollback()
            raise
        left, db.after_commit = db.after_commit, []
        db.check_file()
        for do in left:
            do()


@contextmanager
def read(db: Database) -> Iterator[Database]:
    """Read what was stored at one instant, whatever is written meanwhile; nobody waits for the reader."""
    db.execute("BEGIN")
    try:
        yield db
    finally:
        db.conn.rollback()


def instant(at: datetime) -> str:
    """Write an instant as stored: UTC, to the millisecond, so that text order is time order."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

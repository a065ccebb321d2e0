"""Opening the SQLite file with settings that never lose an acknowledged event; and transactions.

Knows SQLite and its faults, but no table.
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
# instant can corrupt the file. The bug is in SQLite since 3.7.0. It is fixed in these versions and in all later ones.
MENDED_ON_BRANCH = ((3, 44, 6), (3, 50, 7))
MENDED_SINCE = (3, 51, 3)

# Threads of one process take turns with this lock: SQLite itself waits by sleeping, and then some threads wait for ever.
_turn = threading.Lock()


def is_free_of_wal_fault(version: tuple[int, ...]) -> bool:
    """Whether a write-ahead log is safe with a version of SQLite."""
    return version >= MENDED_SINCE or any(
        version[:2] == mended[:2] and version >= mended for mended in MENDED_ON_BRANCH
    )


StorageError: type[Exception] = sqlite3.DatabaseError
# These errors are faults of the program, never of the disk.
_OUR_FAULTS = (
    sqlite3.IntegrityError,
    sqlite3.ProgrammingError,
    sqlite3.DataError,
    sqlite3.InternalError,
    sqlite3.NotSupportedError,
)


def is_of_storage(error: Exception) -> bool:
    """Whether an error of SQLite comes from the file or the disk: full, damaged, locked or write-protected."""
    return isinstance(error, StorageError) and not isinstance(error, _OUR_FAULTS)


def is_not_text(error: Exception) -> bool:
    """Whether a value could not be read because its bytes are not UTF-8: one damaged row, and no fault of the disk now."""
    return isinstance(error, sqlite3.OperationalError) and "Could not decode to UTF-8" in str(error)


class Database(sqlite_utils.Database):
    """A connection that remembers which file it opened, so that it notices if the file is replaced.

    Attributes:
        path: The path of the file.
        after_commit: Functions that run after the commit of a write, before anybody gets an answer.
    """

    def __init__(self, path: Path, mode: str = "rw") -> None:
        """Open a file. Mode "rw" opens an existing file, "rwc" makes a missing file, "ro" only reads.

        Raises:
            RecordsError: `unreadable`: the file does not exist, or this user may not open it.
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
        """Check that the opened file is still at its path.

        Args:
            first: The file that must be there, from `file_at`; by default the opened file.

        Raises:
            RecordsError: `gone` or `replaced`: a write would now be lost.
        """
        found = file_at(self.path)
        if found is None:
            raise RecordsError("gone", path=self.path)
        if found != self._file or self._file != (first or self._file):
            raise RecordsError("replaced", path=self.path)


def file_at(path: Path) -> tuple[int, int] | None:
    """Return two numbers that identify the file at a path, or None if there is no file."""
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
        A connection that waits for locks, checks foreign keys and flushes at every commit.

    Raises:
        RecordsError: `missing`: there is no such file (and no file is made); or `unreadable`.
    """
    if not Path(path).is_file():
        raise RecordsError("missing", path=path)
    return with_settings(Database(Path(path)))


def with_settings(db: Database) -> Database:
    """Set the settings that every writing connection must have.

    Raises:
        RecordsError: `unreadable`: the file is not a database, or is damaged.
    """
    try:
        for pragma in SETTINGS:
            db.execute(f"PRAGMA {pragma}")
    except StorageError as error:
        db.close()
        raise RecordsError("unreadable", path=db.path, why=error) from error
    return db


def choose_journal(db: Database, version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str:
    """Set the journal mode of the file once, before serving: a write-ahead log only if it is safe.

    Args:
        db: The records; no other connection may be open.
        version: The version of SQLite in use.

    Returns:
        The journal mode of the file from now on: "wal" or "delete".
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
    """Write in one transaction, which has the write lock from its start.

    A deferred BEGIN that reads first fails at once if another connection writes meanwhile, however long the timeout is.
    So every write goes through here, and writes are never nested. With a rollback journal even COMMIT may find the file
    busy; then the whole transaction is rolled back.

    Raises:
        RecordsError: The file is gone or was replaced, so the write is lost; no answer may say that it was stored.
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


def tidy(db: Database) -> None:
    """Write the whole file anew, so that it holds no byte of what was deleted, and empty the write-ahead log.

    Every other write waits meanwhile.

    Raises:
        StorageError: The disk has no room for a second file, or a reader kept the write-ahead log busy; the records are whole.
    """
    with _turn:
        db.check_file()
        db.execute("VACUUM")
        busy = db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    if busy:
        raise sqlite3.OperationalError("the write-ahead log is in use")


@contextmanager
def read(db: Database) -> Iterator[Database]:
    """Read the records as they are at one instant, whatever is written meanwhile; writers do not wait for the reader."""
    db.execute("BEGIN")
    try:
        yield db
    finally:
        db.conn.rollback()


def instant(at: datetime) -> str:
    """Write an instant as it is stored: UTC, to the millisecond, so that the order of texts is the order of time."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

"""A lock: only one process at a time serves a database or restores a copy over it.

The lock is a file beside the database.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from webapp.config import SettingError
from webapp.words import words_here
from webapp.words.serving import SERVED_ALREADY


@contextmanager
def served_alone(db: Path) -> Iterator[None]:
    """Lock a database for this process. The lock ends with the process, even if the process is killed.

    Args:
        db: The SQLite file.

    Raises:
        SettingError: Another process has the lock.
    """
    lock = FileLock(f"{db.resolve()}.serving")
    try:
        lock.acquire(blocking=False)
    except Timeout as error:
        raise SettingError(words_here().say(SERVED_ALREADY, path=db)) from error
    try:
        yield
    finally:
        lock.release()

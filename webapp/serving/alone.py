"""One process at a time serves a database, or puts a copy in its place.

Knows the file system: a lock beside the database.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from webapp.config import SettingError
from webapp.words import words_for
from webapp.words.serving import SERVED_ALREADY


@contextmanager
def served_alone(db: Path) -> Iterator[None]:
    """Hold a database for this process; the lock ends with the process, however that ends.

    Args:
        db: The SQLite file.

    Raises:
        SettingError: Another process serves it.
    """
    lock = FileLock(f"{db.resolve()}.serving")
    try:
        lock.acquire(blocking=False)
    except Timeout as error:
        raise SettingError(words_for().say(SERVED_ALREADY, path=db)) from error
    try:
        yield
    finally:
        lock.release()

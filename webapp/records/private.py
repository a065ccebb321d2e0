"""Files that only their owner may read: a database holds what clients told in confidence."""

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from secrets import token_hex

from webapp.records.faults import RecordsError

MODE = 0o600
BESIDE = ("-wal", "-shm", "-journal")


def private_opener(name: str, flags: int) -> int:
    """Open a file for `open`; one that is made is its owner's alone."""
    return os.open(name, flags, MODE)


def keep_private(path: Path) -> None:
    """Take a database, and what SQLite keeps beside it, from everybody but its owner.

    Raises:
        RecordsError: `not_owned`: the owner is somebody else, and others may read it.
    """
    for each in (path, *companions(path)):
        try:
            if stat.S_IMODE(each.stat().st_mode) != MODE:
                each.chmod(MODE)
        except FileNotFoundError:
            continue  # SQLite takes these away by itself.
        except PermissionError as error:
            raise RecordsError("not_owned", path=each) from error


@contextmanager
def make_beside(path: Path) -> Iterator[Path]:
    """Make an empty file of the owner's alone in the same folder, to be moved or linked into place; else it goes."""
    fresh = path.with_name(f".{path.name}.{token_hex(4)}.part")
    os.close(os.open(fresh, os.O_CREAT | os.O_EXCL | os.O_RDWR, MODE))
    try:
        yield fresh
    finally:
        for each in (fresh, *companions(fresh)):
            each.unlink(missing_ok=True)


def flush_file(path: Path) -> None:
    """Have the disk keep what was written to a file."""
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def companions(path: Path) -> list[Path]:
    """List the files that SQLite may keep beside a database."""
    return [path.with_name(path.name + end) for end in BESIDE]


def flush_folder(folder: Path) -> None:
    """Make a renaming in a folder last, where the system lets a folder be flushed."""
    if os.name == "posix":
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)

"""Files that only their owner may read, since a database holds confidential facts about clients."""

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
    """Open a file, as the opener for `open`; only the owner may read a file that is made."""
    return os.open(name, flags, MODE)


def keep_private(path: Path) -> None:
    """Allow only the owner to read a database and the files that SQLite keeps beside it.

    Raises:
        RecordsError: `not_owned`: others may read the file, and this user is not its owner.
    """
    for each in (path, *companions(path)):
        try:
            if stat.S_IMODE(each.stat().st_mode) != MODE:
                each.chmod(MODE)
        except FileNotFoundError:
            continue  # SQLite may delete such a file at any time.
        except PermissionError as error:
            raise RecordsError("not_owned", path=each) from error


@contextmanager
def make_beside(path: Path) -> Iterator[Path]:
    """Make an empty private file in the same folder, to be moved or linked to its path; if it is not, it is deleted."""
    fresh = path.with_name(f".{path.name}.{token_hex(4)}.part")
    os.close(os.open(fresh, os.O_CREAT | os.O_EXCL | os.O_RDWR, MODE))
    try:
        yield fresh
    finally:
        for each in (fresh, *companions(fresh)):
            each.unlink(missing_ok=True)


def flush_file(path: Path) -> None:
    """Flush a file to the disk."""
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def companions(path: Path) -> list[Path]:
    """List the files that SQLite may keep beside a database."""
    return [path.with_name(path.name + end) for end in BESIDE]


def flush_folder(folder: Path) -> None:
    """Flush a folder, so that a rename in it survives a power cut; does nothing if the system cannot do this."""
    if os.name == "posix":
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)

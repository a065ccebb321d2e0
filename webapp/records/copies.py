"""Copying the records, even while they are served, and restoring from a copy.

A copy is marked as a copy, and a marked file is never served.
"""

import shutil
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from webapp.records import acts, new_life, soundness
from webapp.records.database import Database, StorageError, instant, open_records, with_settings, write
from webapp.records.faults import RecordsError
from webapp.records.making import prepare_records
from webapp.records.new_life import NewLife
from webapp.records.private import companions, flush_file, flush_folder, keep_private, make_beside
from webapp.records.soundness import COPY_OF

ENDING = ".copy"
STAMP = "%Y%m%dT%H%M%S.%fZ"


@dataclass(frozen=True)
class PutBack:
    """The result of a restore: the path of the replaced database, None if there was none, and the new life."""

    kept: Path | None
    life: NewLife


def make_copy(path: Path, folder: Path, look: Callable[[Database], None], now: datetime) -> Path:
    """Copy the records as they are at one instant, even if somebody writes meanwhile.

    Args:
        path: The database.
        folder: The folder for the copy.
        look: Checks the copy; if it raises, no copy is made.
        now: The instant of the call, with a zone.

    Returns:
        The path of the copy. The copy is marked, flushed, and only its owner may read it.

    Raises:
        RecordsError: The database is missing, is not ours, or is itself a copy; or `copy_exists`.
    """
    target = folder.absolute() / f"{path.stem}-{now.strftime(STAMP)}{ENDING}"
    with make_beside(target) as fresh:
        with closing(open_records(path)) as source, closing(Database(fresh)) as copied:
            soundness.check_is_ours(source)
            source.conn.backup(copied.conn, pages=-1)
        with closing(_alone(fresh)) as copy:
            with write(copy):
                copy.execute("INSERT INTO settings (key, value) VALUES (?, ?)", (COPY_OF, instant(now)))
            look(copy)
        flush_file(fresh)
        if target.exists():
            raise RecordsError("copy_exists", path=target)
        fresh.replace(target)
        flush_folder(target.parent)
    return target


def drop_oldest(path: Path, folder: Path, newest: int) -> list[Path]:
    """Delete all but the newest copies of this database; a copy's name holds the instant when it was made."""
    copies = sorted(folder.glob(f"{path.stem}-[0-9]*T[0-9]*Z{ENDING}"), reverse=True)
    for each in copies[newest:]:
        each.unlink()
    return copies[newest:]


def put_back(copy: Path, path: Path, now: datetime, *, confirm_all: bool = False) -> PutBack:
    """Replace the records by a copy, and begin a new life in it. Nothing may serve the records meanwhile.

    Args:
        copy: A copy of Halfturn's records, or any whole database of Halfturn; it may be `path` itself.
        path: The path of the records. A file that is there is kept beside it under another name.
        now: The instant of the call, with a zone.
        confirm_all: Whether the practitioner must confirm every phone.

    Raises:
        RecordsError: The copy cannot be used; or `in_use`: a process still has the records open.
    """
    if not copy.is_file():
        raise RecordsError("missing_copy", path=copy)
    with make_beside(path) as fresh:
        try:
            life = _made_ready(copy, path, fresh, now, confirm_all=confirm_all)
        except RecordsError as error:
            raise RecordsError(error.code, **{**error.gaps, "path": copy}) from error
        kept = _set_aside(path, now) if path.exists() else None
        _set_aside_strays(path, now)
        fresh.replace(path)
        acts.begin(path, life.act)
        flush_folder(path.parent)
    return PutBack(kept, life)


def _made_ready(copy: Path, path: Path, fresh: Path, now: datetime, *, confirm_all: bool) -> NewLife:
    shutil.copyfile(copy, fresh)
    for ours, theirs in zip(companions(fresh), companions(copy), strict=True):
        # The index of a write-ahead log is left out, since SQLite makes it anew.
        if theirs.exists() and not theirs.name.endswith("-shm"):
            shutil.copyfile(theirs, ours)
    with closing(_alone(fresh)) as db:
        try:
            soundness.check_is_ours(db)
        except RecordsError as error:
            if error.code != "marked":
                raise
        soundness.check_is_whole(db)
        with write(db):
            db.execute("DELETE FROM settings WHERE key = ?", (COPY_OF,))
    prepare_records(fresh)
    with closing(_alone(fresh)) as db:
        life = new_life.begin(db, acts.read(path), now, confirm_all=confirm_all)
    keep_private(fresh)
    flush_file(fresh)
    return life


def _alone(path: Path) -> Database:
    """Open a file that no other process has open, and merge its write-ahead log into it."""
    db = with_settings(Database(path))
    db.execute("PRAGMA busy_timeout = 1000")
    db.execute("PRAGMA journal_mode = DELETE").fetchone()
    return db


def _set_aside(path: Path, now: datetime) -> Path:
    """Rename the records' file, once no process has it open and all of it is in that file."""
    try:
        _alone(path).close()
    except (StorageError, RecordsError) as error:
        # If the file has another fault, it is kept unchanged.
        if "locked" in str(error):
            raise RecordsError("in_use", path=path) from error
    kept = path.with_name(f"{path.name}.replaced-{now.strftime(STAMP)}")
    if acts.beside(path).exists():
        shutil.copy2(acts.beside(path), acts.beside(kept))
    path.replace(kept)
    return kept


def _set_aside_strays(path: Path, now: datetime) -> None:
    """Rename the files that SQLite left beside the records; SQLite must never read them as part of another database."""
    for each in companions(path):
        if each.exists():
            each.replace(each.with_name(f"{path.name}.replaced-{now.strftime(STAMP)}{each.name[len(path.name) :]}"))

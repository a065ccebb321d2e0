"""Making a copy of the records while they are served, and putting one back in their place.

A copy knows that it is one: it is marked, and nothing serves a marked file.
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
from webapp.records.migrations import prepare_records
from webapp.records.new_life import NewLife
from webapp.records.private import companions, flush_file, flush_folder, keep_private, make_beside
from webapp.records.soundness import COPY_OF

ENDING = ".copy"
STAMP = "%Y%m%dT%H%M%S.%fZ"


@dataclass(frozen=True)
class PutBack:
    """What putting a copy back did: where the replaced database is kept, None where there was none, and the new life."""

    kept: Path | None
    life: NewLife


def make_copy(path: Path, folder: Path, look: Callable[[Database], None], now: datetime) -> Path:
    """Copy the records in one step, as of one instant, whoever writes meanwhile.

    Args:
        path: The database.
        folder: Where the copy goes.
        look: Looks the copy over; what it raises keeps the copy from being made.
        now: The instant of the call, with a zone.

    Returns:
        The copy: marked, its owner's alone, and flushed.

    Raises:
        RecordsError: The database is missing, not ours, itself a copy, or `copy_exists`.
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
    """Delete the copies of this database beyond the newest few; their names hold when they were made."""
    copies = sorted(folder.glob(f"{path.stem}-[0-9]*T[0-9]*Z{ENDING}"), reverse=True)
    for each in copies[newest:]:
        each.unlink()
    return copies[newest:]


def put_back(copy: Path, path: Path, now: datetime, *, confirm_all: bool = False) -> PutBack:
    """Put a copy in the place of the records, and begin a new life in it. Nothing may serve them meanwhile.

    Args:
        copy: A copy of ours, or any whole database of ours, `path` itself included.
        path: Where the records are to lie; what lies there is kept beside under another name.
        now: The instant of the call, with a zone.
        confirm_all: Whether every phone is to be confirmed.

    Raises:
        RecordsError: The copy cannot be used, or `in_use`: something still has the records open.
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
        # Not the index of a write-ahead log, which SQLite makes anew.
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
    """Open a file that nobody else has open, and have all of it in that one file: no log is left beside."""
    db = with_settings(Database(path))
    db.execute("PRAGMA busy_timeout = 1000")
    db.execute("PRAGMA journal_mode = DELETE").fetchone()
    return db


def _set_aside(path: Path, now: datetime) -> Path:
    """Move the records to another name, whole in one file, once nobody has them open."""
    try:
        _alone(path).close()
    except (StorageError, RecordsError) as error:
        # Whatever else is wrong with it, it is kept as it lies.
        if "locked" in str(error):
            raise RecordsError("in_use", path=path) from error
    kept = path.with_name(f"{path.name}.replaced-{now.strftime(STAMP)}")
    if acts.beside(path).exists():
        shutil.copy2(acts.beside(path), acts.beside(kept))
    path.replace(kept)
    return kept


def _set_aside_strays(path: Path, now: datetime) -> None:
    """Move away what SQLite left beside the records: it must never be read as part of another file."""
    for each in companions(path):
        if each.exists():
            each.replace(each.with_name(f"{path.name}.replaced-{now.strftime(STAMP)}{each.name[len(path.name) :]}"))

"""Makes the database, and brings it up to date before it is served. Several processes may do so at once."""

import os
from contextlib import suppress
from pathlib import Path

from webapp.records import acts, soundness
from webapp.records.database import Database, choose_journal, open_records, with_settings, write
from webapp.records.faults import RecordsError
from webapp.records.later_migrations import migrations
from webapp.records.private import flush_folder, keep_private, make_beside


def make_records(path: Path | str) -> None:
    """Make a database if there is none, and migrate it.

    Several processes may call this at once: one file is made, completely or not at all.

    Raises:
        RecordsError: As in `prepare_records`; or `was_here`: there is an acts file, so a database was here and is lost.
    """
    where = Path(path).absolute()
    if not where.exists():
        if acts.beside(where).exists():
            raise RecordsError("was_here", path=where, acts=acts.beside(where))
        _make(where)
    prepare_records(where)


def _make(path: Path) -> None:
    with make_beside(path) as fresh:
        db = with_settings(Database(fresh))
        try:
            with write(db):
                migrations.apply(db)
            begun = acts.Act(acts.life_of(db), 0, acts.BEGUN)
        finally:
            db.conn.close()
        with suppress(FileExistsError):
            os.link(fresh, path)
            acts.begin(path, begun)
        flush_folder(path.parent)


def prepare_records(path: Path | str) -> None:
    """Prepare a file before it is served: set its permissions and its journal, and migrate its tables.

    Several processes may call this at once: the first process does the work, the others wait.

    Args:
        path: The SQLite file.

    Raises:
        RecordsError: missing, not_ours, marked, newer or read_only.
    """
    where = Path(path).absolute()
    db = open_records(where)
    try:
        soundness.check_is_ours(db)
        soundness.check_is_not_newer(db, migrations)
        soundness.check_takes_writes(db)
        keep_private(where)
        choose_journal(db)
        with write(db):
            migrations.apply(db)
    finally:
        db.conn.close()
    keep_private(where)

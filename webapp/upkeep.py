"""The commands for the database: `migrate`, `backup`, `restore`, `check`, `carry-out`, `bring-in`.

Knows the terminal and the settings. The rooms do the work.
"""

import argparse
import os
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from webapp.config import read_settings
from webapp.library.faults import NotAcceptedError
from webapp.records import carrying, copies, practitioners, soundness
from webapp.records.copies import PutBack
from webapp.records.database import StorageError, is_of_storage, open_records
from webapp.records.faults import RecordsError
from webapp.records.making import make_records
from webapp.records.private import private_opener
from webapp.serving.alone import served_alone
from webapp.sync.carrying import bring_in as bringing
from webapp.sync.carrying import own_file
from webapp.sync.caseload import checks
from webapp.words import upkeep as say
from webapp.words import words_here
from webapp.words.faults import fault_text
from webapp.words.terminal import MIGRATED

FAULTY = 2
UNSOUND = 1


def _db(args: argparse.Namespace) -> Path:
    path = read_settings(args.environ).db.absolute()
    soundness.check_folder(path)
    return path


def _tell(text: str, **gaps: object) -> None:
    sys.stdout.write(words_here().say(text, **gaps) + "\n")


def migrate(args: argparse.Namespace) -> int:
    """Make the database, or migrate it to the present schema."""
    path = _db(args)
    make_records(path)
    _tell(MIGRATED, path=path)
    return 0


def backup(args: argparse.Namespace) -> int:
    """Copy the database, even while it is served. Return 1 if the copy is not sound; then no copy is kept or deleted."""
    if args.keep < 1:
        sys.stderr.write(words_here().say(say.KEEP_RULE, value=args.keep) + "\n")
        return FAULTY
    path = _db(args)
    folder = (args.to or path.parent).absolute()
    if not folder.is_dir() or not os.access(folder, os.W_OK | os.X_OK):
        raise RecordsError("no_place", path=folder)
    try:
        made = copies.make_copy(path, folder, checks.look, datetime.now(UTC))
    except RecordsError as error:
        if error.code != "unsound":
            raise
        sys.stderr.write(say.fault_of_records(words_here(), error.code, {**error.gaps, "path": path}) + "\n")
        return UNSOUND
    except (StorageError, OSError) as error:
        raise _storage(error, folder) from error
    _tell(say.COPIED, path=made, kilobytes=-(-made.stat().st_size // 1000))
    dropped = copies.drop_oldest(path, folder, args.keep)
    if dropped:
        _tell(say.DROPPED, keep=args.keep, names=", ".join(each.name for each in dropped))
    return 0


def restore(args: argparse.Namespace) -> int:
    """Replace the database by a copy. Return 1 if the copy is now in use but the check finds something wrong in it."""
    path = _db(args)
    try:
        with served_alone(path):
            done = copies.put_back(args.file.absolute(), path, datetime.now(UTC), confirm_all=args.confirm_phones)
    except (StorageError, OSError) as error:
        raise _storage(error, path) from error
    _tell_put_back(args.file, path, done)
    return _tell_troubles(path)


def _tell_put_back(copy: Path, path: Path, done: PutBack) -> None:
    _tell(say.PUT_BACK, copy=copy, path=path)
    if done.kept:
        _tell(say.KEPT, kept=done.kept)
    _tell(say.SIGNED_OUT)
    _tell(say.NUMBERS)
    for text, count in (
        (say.WITHDRAWN, done.life.withdrawn),
        (say.REVOKED, done.life.revoked),
        (say.REMOVED_AGAIN, done.life.removed),
        (say.TO_CONFIRM, done.life.to_confirm),
    ):
        if count:
            _tell(text, count=count)


def check(args: argparse.Namespace) -> int:
    """Check the database. Return 1 if something is wrong; each fault is printed on its own line."""
    path = _db(args)
    return _tell_troubles(path)


def carry_out(args: argparse.Namespace) -> int:
    """Write every client into a file that only this user may read."""
    path, file = _db(args), args.file.absolute()
    with closing(open_records(path)) as db:
        soundness.check_is_ours(db)
        clients = carrying.keys(db)
        try:
            with open(file, "xb", opener=private_opener) as out:
                out.writelines(own_file.write_file(db, clients, datetime.now(UTC)))
        except OSError as error:
            raise RecordsError("no_file", path=file, why=error.strerror or error) from error
    _tell(say.CARRIED_OUT, path=file, count=len(clients))
    return 0


def bring_in(args: argparse.Namespace) -> int:
    """Take a file of clients into a practitioner's caseload. Return 1, and take nothing, where the file has faults."""
    path = _db(args)
    with closing(open_records(path)) as db:
        soundness.check_is_ours(db)
        found = practitioners.with_password(db, args.email)
        if found is None:
            sys.stderr.write(words_here().say(say.NOBODY_WITH, email=args.email) + "\n")
            return FAULTY
        try:
            raw = args.file.read_bytes()
        except OSError as error:
            raise RecordsError("no_file", path=args.file, why=error.strerror or error) from error
        try:
            brought = bringing.bring_in(db, found[0].id, raw, args.file.name)
        except NotAcceptedError as error:
            faults = [fault_text(words_here(), fault) for fault in error.faults]
            sys.stderr.write("\n".join([words_here().say(say.NOTHING_TAKEN), *faults]) + "\n")
            return UNSOUND
    _tell(say.BROUGHT_IN, name=found[0].name, count=len(brought))
    return 0


def _tell_troubles(path: Path) -> int:
    with closing(open_records(path)) as db:
        soundness.check_is_ours(db)
        found = checks.troubles(db)
    for each in found:
        sys.stderr.write(words_here().say(say.TROUBLES[each.code], **each.gaps) + "\n")
    if found:
        return UNSOUND
    _tell(say.CHECKED, path=path)
    return 0


def _storage(error: Exception, path: Path) -> Exception:
    if isinstance(error, StorageError) and not is_of_storage(error):
        return error
    return RecordsError("storage", path=path, why=error)

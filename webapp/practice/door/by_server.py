"""What whoever runs the server does to an account by the command line: a role, a password. The history names it, and says who did it."""

import argparse
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from webapp.practice.door import recovery_code
from webapp.practice.door.accounts import AccountError, ask_password
from webapp.practice.door.passwords import FEWEST_LETTERS, MOST_LETTERS
from webapp.records import history, members, owners, practices, practitioners, recovery
from webapp.records.database import Database, open_records
from webapp.records.making import prepare_records
from webapp.records.owners import LastOwnerError
from webapp.words import words_here
from webapp.words.practitioner import IS_NOW, IS_SET, STAYS, account_fault

FAULTY = 2


def offer_role(parser: argparse.ArgumentParser) -> None:
    """Add the arguments of `practitioner role` to a parser."""
    parser.add_argument("--email", required=True)
    parser.add_argument("--role", required=True, choices=practices.ROLES)


def set_role(arguments: argparse.Namespace, records_path: Path | str) -> int:
    """Run `practitioner role`; return the exit code: 0, or 2 where nothing could be changed, which is said."""
    with closing(_opened(records_path)) as db:
        known = practitioners.by_email(db, arguments.email)
        if known is None:
            return _refused("nobody", value=arguments.email)
        house = practices.find(db, known.practice).name
        try:
            is_changed = owners.set_role(db, known.practice, known.id, arguments.role)
        except LastOwnerError:
            return _refused("last_owner", name=known.name, practice=house)
        if is_changed:
            history.note(db, known.id, f"server.{arguments.role}", datetime.now(UTC))
        text = (IS_NOW if is_changed else STAYS)[arguments.role]
        sys.stdout.write(words_here().say(text, name=known.name, practice=house) + "\n")
    return 0


def offer_password(parser: argparse.ArgumentParser) -> None:
    """Add the arguments of `practitioner password` to a parser."""
    parser.add_argument("--email", required=True)
    parser.add_argument("--password-stdin", action="store_true")


def set_password(arguments: argparse.Namespace, records_path: Path | str) -> int:
    """Run `practitioner password`; return the exit code: 0, or 2 where nothing could be changed, which is said.

    The practitioner sees it on every page until they say to know of it.
    """
    with closing(_opened(records_path)) as db:
        known = practitioners.by_email(db, arguments.email)
        if known is None:
            return _refused("nobody", value=arguments.email)
        try:
            password = ask_password(arguments.password_stdin)
        except AccountError as error:
            sys.stderr.write(f"{error}\n")
            return FAULTY
        if not FEWEST_LETTERS <= len(password) <= MOST_LETTERS:
            return _refused("password", value=len(password), least=FEWEST_LETTERS, most=MOST_LETTERS)
        code, now = recovery_code.drawn(), datetime.now(UTC)
        new = recovery_code.new_secrets(password, code)
        members.replace_password(db, known.id, new, recovery.SET_BY_SERVER, now)
        history.note(db, known.id, "server.password", now)
        sys.stdout.write(words_here().say(IS_SET, name=known.name, code=code) + "\n")
    return 0


def _opened(records_path: Path | str) -> Database:
    prepare_records(records_path)
    return open_records(records_path)


def _refused(code: str, **gaps: object) -> int:
    """Say why nothing was changed, and return the exit code."""
    sys.stderr.write(account_fault(words_here(), code, **gaps) + "\n")
    return FAULTY

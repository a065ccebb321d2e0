"""Practitioners' accounts; the command line makes them."""

import argparse
import getpass
import sys
from datetime import UTC, datetime
from pathlib import Path

from webapp.practice.door.passwords import FEWEST_LETTERS, MOST_LETTERS, hash_password
from webapp.practice.forms.reach import LONGEST_LINE, LONGEST_NAME, is_email, is_telephone
from webapp.records.database import open_records
from webapp.records.making import prepare_records
from webapp.records.practitioners import UNSAID, EmailTakenError, Practitioner, Reach, add
from webapp.words import words_here
from webapp.words.practitioner import ASK, ASK_AGAIN, MADE, account_fault


class AccountError(ValueError):
    """An account cannot be made; the message has one line for each fault."""


def _faults(name: str, email: str, password: str, reach: Reach) -> list[str]:
    words, found = words_here(), []
    if not 1 <= len(name.strip()) <= LONGEST_NAME:
        found.append(account_fault(words, "name", value=name, most=LONGEST_NAME))
    if not is_email(email.strip()):
        found.append(account_fault(words, "email", value=email))
    if reach.telephone and not is_telephone(reach.telephone):
        found.append(account_fault(words, "telephone", value=reach.telephone))
    if len(reach.hours) > LONGEST_LINE:
        found.append(account_fault(words, "hours", value=reach.hours, most=LONGEST_LINE))
    if not FEWEST_LETTERS <= len(password) <= MOST_LETTERS:
        bounds = {"least": FEWEST_LETTERS, "most": MOST_LETTERS}
        found.append(account_fault(words, "password", value=len(password), **bounds))
    return found


def add_practitioner(
    records_path: Path | str,
    name: str,
    email: str,
    password: str,
    now: datetime | None = None,
    reach: Reach = UNSAID,
) -> Practitioner:
    """Make a practitioner's account.

    Args:
        records_path: The SQLite file.
        name: 1 to 80 characters.
        email: The address for signing in; upper and lower case count as the same.
        password: 12 to 1024 characters.
        now: The instant of the call, UTC; by default the machine's own clock.
        reach: How clients reach the practitioner.

    Returns:
        The practitioner as stored.

    Raises:
        AccountError: Some values have faults (all are named), or the address is taken.
        RecordsError: The database is missing, or cannot be used in its present form.
    """
    found = _faults(name, email, password, reach)
    if found:
        raise AccountError("\n".join(found))
    prepare_records(records_path)
    db = open_records(records_path)
    try:
        return add(db, name.strip(), email, hash_password(password), now or datetime.now(UTC), reach)
    except EmailTakenError as error:
        raise AccountError(account_fault(words_here(), "email_taken", value=str(error))) from error
    finally:
        db.conn.close()


def ask_password(from_stdin: bool) -> str:
    """Read a password: the first line of standard input, or typed twice at a prompt that does not show it.

    Raises:
        AccountError: The two passwords differ, or there is nobody to type one.
    """
    if from_stdin:
        return sys.stdin.readline().rstrip("\r\n")
    words = words_here()
    try:
        password = getpass.getpass(words.say(ASK))
        is_same = getpass.getpass(words.say(ASK_AGAIN)) == password
    except EOFError as error:
        raise AccountError(account_fault(words, "nothing_typed")) from error
    if not is_same:
        raise AccountError(account_fault(words, "passwords_differ"))
    return password


def offer(parser: argparse.ArgumentParser) -> None:
    """Add the arguments of `practitioner add` to a parser."""
    parser.add_argument("--name", required=True)
    parser.add_argument("--email", required=True)
    parser.add_argument("--telephone", default="")
    parser.add_argument("--hours", default="")
    parser.add_argument("--password-stdin", action="store_true")


def run(arguments: argparse.Namespace, records_path: Path | str) -> int:
    """Run `practitioner add`; return the exit code: 0 for an account that was made, 2 for faults, which are printed."""
    reach = Reach(arguments.telephone.strip(), arguments.hours.strip())
    try:
        password = ask_password(arguments.password_stdin)
        made = add_practitioner(records_path, arguments.name, arguments.email, password, reach=reach)
    except AccountError as error:
        print(error, file=sys.stderr)
        return 2
    print(words_here().say(MADE, name=made.name, email=made.email))
    return 0

"""Practitioners' accounts, as the command line makes them."""

import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from webapp.practice.door.accounts import AccountError, add_practitioner
from webapp.practice.door.passwords import is_right
from webapp.records import practitioners
from webapp.records.practitioners import Reach

ROOT = Path(__file__).resolve().parents[2]
NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
GOOD = ("Nora Fell", "Nora@Fell.example", "a long enough password")


def test_an_account_is_made_and_the_password_is_hashed(db, db_path):
    made = add_practitioner(db_path, *GOOD, NOW)
    assert (made.name, made.email) == ("Nora Fell", "nora@fell.example")
    _, password_hash = practitioners.with_password(db, "NORA@fell.example")
    assert password_hash.startswith("$argon2id$")
    assert is_right(password_hash, GOOD[2])
    assert not is_right(password_hash, GOOD[2].upper())


def test_no_password_is_right_for_an_address_that_is_not_known():
    assert not is_right(None, GOOD[2])
    assert not is_right(None, "nobody has this password")


def test_every_fault_is_named_together_and_nothing_is_made(db_path):
    with pytest.raises(AccountError) as refused:
        add_practitioner(db_path, " ", "nobody", "too short", NOW, Reach("0 (12) 34", "x" * 81))
    lines = str(refused.value).splitlines()
    assert len(lines) == 5
    assert lines[0].startswith("name is “ ”")
    assert lines[1].startswith("email is “nobody”")
    assert lines[2].startswith("telephone is “0 (12) 34”")
    assert lines[3].endswith("it may have at most 80 characters.")
    assert lines[4] == "password has 9 characters: it must have 12 to 1024."
    assert not db_path.exists()


def test_an_address_has_one_account_however_it_is_written(db, db_path):
    add_practitioner(db_path, *GOOD, NOW)
    with pytest.raises(AccountError, match="belongs to an account already"):
        add_practitioner(db_path, "Somebody", "NORA@FELL.EXAMPLE", "another long password", NOW)


def _run(db_path, password, *more, asking=("--password-stdin",)):
    """Run the command with the password on standard input."""
    command = [
        sys.executable,
        "-m",
        "webapp.cli",
        "practitioner",
        "add",
        "--name",
        "Nora Fell",
        "--email",
        "nora@fell.example",
    ]
    surroundings = {**os.environ, "HALFTURN_DB": str(db_path)}
    return subprocess.run(
        [*command, *more, *asking], start_new_session=True,
        check=False, cwd=ROOT, input=password and f"{password}\n", capture_output=True, text=True, env=surroundings, timeout=60,
    )  # fmt: skip


def test_the_command_line_takes_the_password_from_standard_input(db, db_path):
    ran = _run(db_path, GOOD[2])
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "Nora Fell can sign in with nora@fell.example" in ran.stdout


def test_the_command_line_takes_how_clients_reach_them(db, db_path):
    assert _run(db_path, GOOD[2], "--telephone", "555 0102", "--hours", " weekdays 9 to 17 ").returncode == 0
    made, _ = practitioners.with_password(db, "nora@fell.example")
    assert practitioners.reach_of(db, made.id) == Reach("555 0102", "weekdays 9 to 17")


def test_the_command_line_names_the_fault_and_ends_with_two(db_path):
    ran = _run(db_path, "short")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "password has 5 characters: it must have 12 to 1024.\n"


def test_without_a_terminal_it_says_how_to_send_the_password(db, db_path):
    ran = _run(db_path, "", asking=())
    assert ran.returncode == 2
    assert ran.stderr.endswith(
        "nothing was typed at the prompt. Without a terminal, send the password as one line with --password-stdin.\n"
    )


def test_no_account_is_made_where_there_is_no_database(db_path):
    ran = _run(db_path, GOOD[2])
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "There is no database at" in ran.stderr
    assert not db_path.exists()

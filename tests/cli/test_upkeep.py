"""`halfturn migrate`, `backup`, `restore` and `check`, and the databases that `serve` refuses."""

import json
import stat

import pytest

from tests.builders import empty_records, enrol, event, hire, session
from tests.cast import BELL_FOUNDER, FIRST_DAY, HEDDA, NOW
from webapp.bench.served import free_port
from webapp.cli import main
from webapp.config import program_hash
from webapp.records import acts, derived, devices, events, folded
from webapp.records.database import open_records, write
from webapp.sync.phone.serve import PhoneBatch, Speaker, answer_sync


@pytest.fixture
def run(db_path, capsys):
    """A function that runs a command on this test's database; it returns the exit code and the printed text."""

    def run_command(*typed, at=db_path):
        environ = {"HALFTURN_DB": str(at), "HALFTURN_ORIGIN": f"http://127.0.0.1:{free_port()}"}
        code = main([str(each) for each in typed], environ)
        said = capsys.readouterr()
        return code, said.out + said.err

    return run_command


@pytest.fixture
def ansgar(db_path):
    """A client with three events; no process has the database open."""
    db = empty_records(db_path)
    client = enrol(db, hire(db, HEDDA).id, BELL_FOUNDER)
    who = Speaker(client.id, client.public_id, "Ansgar Tolle", "phone")
    raws = [json.dumps(session(FIRST_DAY, 1, seq=seq)).encode() for seq in (1, 2, 3)]
    answer_sync(db, who, PhoneBatch(FIRST_DAY, "en", None, 0, None, raws), NOW)
    db.close()
    return client


def _copies(folder):
    return sorted(folder.glob("*.copy"))


def test_migrate_alone_makes_a_database_and_nobody_else_may_read_it(run, db_path):
    code, said = run("migrate")
    assert (code, said) == (0, f"{db_path} is up to date.\n")
    assert stat.S_IMODE(db_path.stat().st_mode) == 0o600


@pytest.mark.parametrize("typed", [("serve",), ("backup",), ("check",)])
def test_every_other_command_on_a_missing_file_says_so_and_makes_none(run, db_path, typed):
    code, said = run(*typed)
    assert code == 2
    assert said.startswith(f"There is no database at {db_path}.")
    # Who serves, or tries to, leaves an empty lock beside.
    assert {each.name for each in db_path.parent.iterdir()} <= {f"{db_path.name}.serving"}


def test_migrate_makes_no_new_one_where_a_database_was_lost(run, db_path, ansgar):
    db_path.unlink()
    code, said = run("migrate")
    assert (code, db_path.exists()) == (2, False)
    assert "one was here before" in said


@pytest.mark.parametrize("content", [b"", b"not a database at all", b"SQLite format 3\0" + b"\0" * 4000])
def test_what_is_no_database_of_ours_is_left_as_it_is(run, db_path, content):
    db_path.write_bytes(content)
    for typed in ("serve", "migrate", "check", "backup"):
        assert run(typed)[0] == 2
    assert db_path.read_bytes() == content


def test_a_folder_that_cannot_be_looked_into_is_a_sentence(run, tmp_path):
    code, said = run("serve", at=tmp_path / ("x" * 300) / "halfturn.db")
    assert (code, said.count("\n")) == (2, 1)
    assert "cannot be read and written by this user" in said
    assert "its folder must exist" in run("serve", at=tmp_path / "no" / "halfturn.db")[1]


def _change(path, statement, *values):
    db = open_records(path)
    with write(db):
        db.execute(statement, values)
    db.close()


def test_a_newer_program_s_database_is_not_served(run, db_path, ansgar):
    _change(
        db_path,
        "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('halfturn', 'a_later_table', '')",
    )
    code, said = run("serve")
    assert code == 2
    assert "was made by a newer Halfturn (it has a_later_table)" in said


def test_a_database_that_takes_no_writes_is_not_served(run, db_path, ansgar):
    # A file of a write version above 2 can only be read: https://www.sqlite.org/fileformat.html, section 1.3.3.
    with db_path.open("r+b") as file:
        file.seek(18)
        file.write(b"\x03")
    code, said = run("serve")
    assert code == 2
    assert str(db_path) in said
    assert "readonly" in said


def test_a_weak_key_is_not_served_and_restore_draws_another(run, db_path, ansgar):
    _change(db_path, "UPDATE settings SET value = 'ab' WHERE key = 'secret_key'")
    code, said = run("serve")
    assert code == 2
    assert f"halfturn restore {db_path}" in said
    assert run("restore", db_path)[0] == 0
    assert run("check") == (0, f"{db_path} is sound.\n")


def test_a_damaged_database_is_neither_served_nor_copied(run, db_path, ansgar):
    db = open_records(db_path)
    page = db.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'events'").fetchone()[0]
    db.close()
    with db_path.open("r+b") as file:
        file.seek((page - 1) * 4096)
        file.write(b"\0" * 4096)
    assert run("serve")[0] == 2
    assert "is damaged" in run("serve")[1]
    assert run("check")[0] == 1
    assert run("backup")[0] in (1, 2)
    assert _copies(db_path.parent) == []


def test_a_backup_holds_everything_and_says_that_it_is_one(run, db_path, ansgar):
    db = open_records(db_path)
    code, said = run("backup")
    db.close()
    (copy,) = _copies(db_path.parent)
    assert code == 0
    assert said.startswith(f"{copy} holds everything up to now")
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    kept = open_records(copy)
    assert events.newest_seq(kept, ansgar.id) == 3
    kept.close()
    code, said = run("serve", at=copy)
    assert code == 2
    assert f"halfturn restore {copy}" in said


def test_the_newest_copies_are_kept_and_other_files_are_left_alone(run, db_path, tmp_path, ansgar):
    folder = tmp_path / "copies"
    folder.mkdir()
    other = folder / "halfturn-of-my-own.copy"
    other.write_text("mine")
    for _ in range(4):
        assert run("backup", "--to", folder, "--keep", 2)[0] == 0
    assert len(_copies(folder)) == 3
    assert other.exists()
    assert run("backup", "--to", folder, "--keep", 0)[0] == 2
    assert run("backup", "--to", tmp_path / "nowhere")[0] == 2


def test_a_copy_with_a_fault_in_it_is_not_kept_and_deletes_no_other(run, db_path, ansgar):
    assert run("backup")[0] == 0
    _change(db_path, "UPDATE events SET raw = replace(raw, '\"worst\": 1', '\"worst\": 0') WHERE seq = 2")
    code, said = run("backup", "--keep", 1)
    assert (code, len(_copies(db_path.parent))) == (1, 1)
    assert "findings: 1; the first: contents" in said
    code, said = run("check")
    assert code == 1
    assert "is not what it was when it was stored" in said


def test_a_hole_in_a_log_is_found(run, db_path, ansgar):
    _change(db_path, "DELETE FROM events WHERE seq = 2")
    assert "there are 2, the last has number 3" in run("check")[1]


def test_what_was_worked_out_is_compared_with_the_log(run, db_path, ansgar):
    db = open_records(db_path)
    derived.drop_unless_made_by(db, program_hash())
    with write(db):
        folded.keep(db, ansgar.id, folded.Folded(3, "2026-03-05", '{"right": {"version": 1, "state": [3]}}'))
    db.close()
    assert "is not what the log gives" in run("check")[1]


def test_what_the_caseload_shows_is_compared_with_the_log(run, db_path, ansgar):
    db = open_records(db_path)
    derived.drop_unless_made_by(db, program_hash())
    who = Speaker(ansgar.id, ansgar.public_id, "Ansgar Tolle", "phone")
    raw = json.dumps(event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=9)).encode()
    answer_sync(db, who, PhoneBatch(FIRST_DAY, "en", None, 0, None, [raw]), NOW)
    db.close()
    assert run("check")[0] == 0
    _change(db_path, "UPDATE summaries SET told = replace(told, 'training', 'resting')")
    assert run("check") == (1, f"What the caseload shows of client {ansgar.public_id} is not what the log gives.\n")


def test_a_hand_made_copy_is_known_by_what_it_lacks(run, db_path, ansgar):
    old = db_path.read_bytes()
    db = open_records(db_path)
    with write(db):
        device, _ = devices.join(db, ansgar.id, "a phone", NOW)
    devices.revoke(db, ansgar.id, device, NOW)
    db.close()
    db_path.write_bytes(old)
    code, said = run("serve")
    assert code == 2
    assert "older than the one that was last served here: 1 acts" in said
    code, said = run("restore", db_path)
    assert code == 0
    assert "must sign in again" in said


def test_a_file_that_was_moved_without_its_acts_is_not_served(run, db_path, ansgar, tmp_path):
    acts.beside(db_path).rename(tmp_path / "elsewhere")
    assert "is missing beside the database" in run("serve")[1]
    (tmp_path / "elsewhere").rename(acts.beside(db_path))
    _change(db_path, "UPDATE settings SET value = 'another' WHERE key = 'life'")
    assert "belongs to another database" in run("serve")[1]


def test_nothing_is_put_back_under_a_server_or_from_a_file_that_is_none_of_ours(run, db_path, ansgar, tmp_path):
    run("backup")
    (copy,) = _copies(db_path.parent)
    before = db_path.read_bytes()
    held = open_records(db_path)
    code, said = run("restore", copy)
    assert code == 2
    assert "Stop the server first" in said
    held.close()
    (tmp_path / "rubbish").write_bytes(b"rubbish" * 1000)
    assert run("restore", tmp_path / "rubbish")[0] == 2
    assert run("restore", tmp_path / "nothing")[0] == 2
    assert db_path.read_bytes() == before
    assert not list(db_path.parent.glob("*.part*"))


def test_whatever_lies_there_is_replaced_and_kept(run, db_path, ansgar):
    run("backup")
    (copy,) = _copies(db_path.parent)
    db_path.write_bytes(b"rubbish" * 1000)
    assert run("restore", copy)[0] == 0
    assert run("check")[0] == 0
    (kept,) = (each for each in db_path.parent.glob("*.replaced-*") if each.suffix != ".acts")
    assert kept.read_bytes() == b"rubbish" * 1000


def test_a_copy_with_a_fault_in_a_row_is_put_back_all_the_same_and_the_fault_is_told(run, db_path, ansgar):
    run("backup")
    (copy,) = _copies(db_path.parent)
    _change(copy, "DELETE FROM events WHERE seq = 2")
    code, said = run("restore", copy)
    assert code == 1
    assert "is now the database" in said
    assert "there are 2, the last has number 3" in said


def test_restore_tells_what_it_did_and_leaves_a_database_that_is_sound(run, db_path, ansgar):
    run("backup")
    (copy,) = _copies(db_path.parent)
    acts.beside(db_path).unlink()
    db_path.unlink()
    db = open_records(copy)
    with write(db):
        devices.join(db, ansgar.id, "a phone", NOW)
    db.close()
    code, said = run("restore", copy)
    assert code == 0
    for text in ("Each phone (1) waits", "withdrawn (1)", "must sign in again", "no number means two routines"):
        assert text in said
    assert run("check")[0] == 0
    assert stat.S_IMODE(db_path.stat().st_mode) == 0o600

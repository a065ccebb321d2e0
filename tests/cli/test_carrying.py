"""`halfturn carry-out` and `bring-in`: every client of one database into another."""

import json
import stat

import pytest

from tests.builders import empty_records, enrol, event, hire
from tests.cast import BELL_FOUNDER, FIRST_DAY, HEDDA, JONAS, NOW
from webapp.cli import main
from webapp.records import cases
from webapp.records.database import open_records
from webapp.sync.log.take import take_batch


@pytest.fixture
def run(capsys):
    """A function that runs a command on a database; it returns the exit code and the printed text."""

    def run_command(path, *typed):
        code = main([str(each) for each in typed], {"HALFTURN_DB": str(path), "HALFTURN_ORIGIN": "http://127.0.0.1:1"})
        said = capsys.readouterr()
        return code, said.out + said.err

    return run_command


@pytest.fixture
def here(tmp_path):
    db = empty_records(tmp_path / "here.db")
    client = enrol(db, hire(db, HEDDA).id, BELL_FOUNDER)
    received = event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""})
    take_batch(db, client.id, "phone", [json.dumps(received).encode()], NOW)
    db.close()
    return tmp_path / "here.db"


@pytest.fixture
def there(tmp_path):
    db = empty_records(tmp_path / "there.db")
    hire(db, JONAS)
    db.close()
    return tmp_path / "there.db"


def test_what_is_carried_out_is_brought_in_once(run, here, there, tmp_path):
    file = tmp_path / "all.json"
    assert run(here, "carry-out", file)[0] == 0
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    code, said = run(there, "bring-in", file, "--for", JONAS.email)
    assert (code, "Jonas Reck has these clients now (1)" in said) == (0, True)
    db = open_records(there)
    assert [case.name for case in cases.of_practitioner(db, 1)] == ["Ansgar Tolle"]
    db.close()
    code, said = run(there, "bring-in", file, "--for", JONAS.email)
    assert (code, "is here already" in said) == (1, True)


def test_a_file_is_never_written_over_and_a_missing_one_is_said(run, here, there, tmp_path):
    (tmp_path / "kept.json").write_text("mine", encoding="utf-8")
    assert run(here, "carry-out", tmp_path / "kept.json")[0] == 2
    assert (tmp_path / "kept.json").read_text(encoding="utf-8") == "mine"
    assert run(there, "bring-in", tmp_path / "none.json", "--for", JONAS.email)[0] == 2
    code, said = run(there, "bring-in", tmp_path / "kept.json", "--for", "nobody@here.example")
    assert (code, "Nobody signs in" in said) == (2, True)
    code, said = run(there, "bring-in", tmp_path / "kept.json", "--for", JONAS.email)
    assert (code, "not the form" in said) == (1, True)

"""Removing a client: no row and no byte of them stays, the others stay as they are, and a restore does not bring them back."""

import json

import pytest

from tests.builders import event, morning, session
from tests.cast import CELLIST, FIRST_DAY, NOW
from webapp.library.routine import starter
from webapp.records import acts, cases, copies, devices, events, feeds, history, private_notes, removal, routines
from webapp.records.database import open_records, read, write
from webapp.records.private import companions
from webapp.sync.caseload import summary
from webapp.sync.caseload.checks import look
from webapp.sync.log import practice_events
from webapp.sync.phone.serve import PhoneBatch, Speaker, answer_sync

SECRETS = (
    "Isaura Linde", "isaura0001", "The low string hurts", "Rest the bow arm", "a telephone of hers", "Quite sore, thanks",
    "not an entry of hers", "Keep the thumb loose",
    "She plays in a quartet", "Handed to a colleague",
)  # fmt: skip


@pytest.fixture
def left_behind(db, isaura, hedda):
    """The cellist with something in every table that speaks of a client."""
    routines.push(db, isaura.id, starter("inner_elbow"), CELLIST.settings, "Keep the thumb loose", hedda.id, NOW)
    with write(db):
        device, _ = devices.join(db, isaura.id, "a telephone of hers", NOW)
        practice_events.put(db, isaura.id, "letter_answered", FIRST_DAY, _answer(), NOW)
    feeds.keep(db, isaura.id, "a key", {}, NOW)
    sent = [
        event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=1),
        session(FIRST_DAY, 2, arms=("left",), seq=2),
        morning(FIRST_DAY, 2, arms=("left",), seq=3),
        event("letter_written", FIRST_DAY, {"text": "The low string hurts"}, seq=4),
        event("session_finished", FIRST_DAY, {"note": "not an entry of hers"}, seq=5),
    ]
    sent[1]["body"]["note"] = "Quite sore, thanks"
    private_notes.add(db, isaura.id, "She plays in a quartet", hedda.id, "a-key", NOW)
    history.note(db, hedda.id, "Handed to a colleague", NOW, isaura.id)
    who = Speaker(isaura.id, isaura.public_id, "Isaura Linde", device)
    raws = [json.dumps(each).encode() for each in sent]
    answer_sync(db, who, PhoneBatch(FIRST_DAY, "en", None, 0, None, raws), NOW)
    summary.renew(db, lambda: NOW, lambda _seconds: False)
    return isaura


def _answer():
    return {"to": "00000000-0000-7000-8000-000000000001", "text": "Rest the bow arm", "by": "Hedda"}


def _bytes(path):
    return b"".join(each.read_bytes() for each in (path, *companions(path)) if each.exists())


def _found(path):
    held = _bytes(path)
    return [secret for secret in SECRETS if secret.encode() in held]


def _tables_about(db, client):
    found = removal.references(db)
    return {
        table for table, column in found
        if db.execute(f"SELECT COUNT(*) FROM {table} WHERE {column} = ?", (client,)).fetchone()[0]
    }  # fmt: skip


def test_no_byte_of_a_removed_client_stays_in_the_file(db, db_path, left_behind):
    assert _found(db_path) == list(SECRETS)
    filled = {"events", "bundles", "summaries", "guidance", "quarantine", "devices", "invitations", "feeds"}
    assert _tables_about(db, left_behind.id) >= filled | {"routine_versions"}
    removal.remove(db, left_behind.id, "asked", NOW)
    assert _found(db_path) == []
    assert not db.execute("SELECT 1 FROM settings WHERE key = ?", (removal.TO_TIDY,)).fetchone()


def test_every_table_that_names_a_client_is_known_by_its_foreign_key(db):
    tables = [row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()]
    named = {table for table in tables for column in db[table].columns if column.name == "client"}
    assert named == {table for table, _ in removal.references(db)}


def test_the_others_stay_and_of_the_removed_only_counts_are_kept(db, left_behind, ansgar):
    before = _tables_about(db, ansgar.id)
    kept = removal.remove(db, left_behind.id, "asked", NOW)
    assert removal.removals(db) == [kept] == [("2026-03-02T09:30:00.000Z", "asked", 5, 2)]
    assert _tables_about(db, ansgar.id) == before
    with pytest.raises(LookupError):
        removal.remove(db, left_behind.id, "asked", NOW)


def test_a_second_writing_of_the_file_waits_for_whoever_reads_and_is_done_later(db, db_path, left_behind):
    reader = open_records(db_path)
    db.execute("PRAGMA busy_timeout = 50")
    with read(reader):
        reader.execute("SELECT COUNT(*) FROM events").fetchone()
        try:
            removal.remove(db, left_behind.id, "asked", NOW)
        except Exception as error:  # noqa: BLE001 - a rollback journal lets nobody write while somebody reads
            assert "locked" in str(error)  # noqa: PT017
            return
        assert not removal.tidy_up(db)
    reader.close()
    assert removal.tidy_up(db)
    assert _found(db_path) == []


def test_a_restored_copy_does_not_bring_a_removed_client_back(db, db_path, left_behind, hedda, ansgar, tmp_path):
    (tmp_path / "copies").mkdir()
    copy = copies.make_copy(db_path, tmp_path / "copies", look, NOW)
    removal.remove(db, left_behind.id, "asked", NOW)
    db.close()
    assert copies.put_back(copy, db_path, NOW).life.removed == 1
    assert _found(db_path) == []
    restored = open_records(db_path)
    assert [case.name for case in cases.of_practitioner(restored, hedda.id)] == ["Ansgar Tolle"]
    assert events.newest_seq(restored, left_behind.id) == 0
    restored.close()


def test_the_act_names_no_person(db, db_path, left_behind):
    removal.remove(db, left_behind.id, "kept_long_enough", NOW)
    last = acts.read(db_path)[-1]
    assert (last.kind, last.which) == (acts.CLIENT_REMOVED, removal.mark_of("isaura0001"))
    assert "isaura" not in acts.beside(db_path).read_text(encoding="utf-8")

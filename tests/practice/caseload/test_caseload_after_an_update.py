"""After an update every log is read anew: a look waits for some of them, and the rest is worked out in the background."""

import logging
from dataclasses import replace
from datetime import timedelta
from itertools import repeat

import pytest
from flask import g

from tests.builders import days_of, enrol, morning
from tests.cast import BELL_FOUNDER, FIRST_DAY
from webapp.app import RENEWED_EACH_SECONDS, renew_rows, renew_rows_again_and_again
from webapp.practice.caseload.lines import caseload_of
from webapp.practice.caseload.page import page
from webapp.records import devices, summaries
from webapp.records.database import write
from webapp.records.derived import drop_unless_made_by
from webapp.sync.caseload.summary import that_differ

NAMES = ("Berta", "Cosima", "Dora", "Egon")


@pytest.fixture
def trained(site):
    """Four clients with a week behind them, whose phones were here one after the other; nothing is worked out."""
    clients = [enrol(site.db, site.hedda.id, replace(BELL_FOUNDER, name=name, public_id=name)) for name in NAMES]
    for client in clients:
        site.begin(client, days_of(FIRST_DAY, [(1, 1)] * 7))
        _sync(site, client)
    assert drop_unless_made_by(site.db, "another program")
    return clients


def _sync(site, client):
    site.clock.pass_by(minutes=1)
    with write(site.db):
        for phone in devices.of_client(site.db, client.id):
            devices.note_sync(site.db, phone.id, 0, site.clock())


def _some(count):
    """Let so many clients be worked out, and no more."""
    answers = iter([*repeat(True, count), *repeat(False, 99)])
    return lambda: next(answers)


def _look(site, count):
    found = caseload_of(site.db, site.hedda.id, site.clock(), _some(count))
    return {line.case.name for line in found.lines}, [case.name for case in found.waiting]


def test_a_look_that_may_not_read_every_log_shows_whose_phone_was_here_last_and_names_the_others(site, trained):
    shown, waiting = _look(site, 2)
    assert shown == {"Dora", "Egon"}
    assert waiting == ["Ansgar Tolle", "Berta", "Cosima", "Isaura Linde"]
    assert that_differ(site.db) == []


def test_every_look_goes_on_where_the_last_one_ended(site, trained):
    names = [_look(site, 2)[1] for _ in range(3)]
    assert names[1:] == [["Ansgar Tolle", "Isaura Linde"], []]
    assert _look(site, 0)[1] == []


def test_the_page_names_whoever_is_not_in_the_list_yet_and_offers_to_look_again(site, hedda, trained):
    found = caseload_of(site.db, site.hedda.id, site.clock(), _some(4))
    with site.app.test_request_context("/practice"):
        g.practitioner = site.hedda
        said = page(found)
    assert "The logs of 2 clients are still being read" in said
    waiting = said.partition("Still being read</h2>")[2]
    assert [name in waiting for name in ("Ansgar Tolle", "Isaura Linde", "Berta")] == [True, True, False]
    assert "still being read" not in hedda.open("/practice").text, (
        "four short logs and two without a day are read at once"
    )


def test_the_background_works_out_one_after_the_other_whose_phone_was_here_last_first(site, trained):
    seen = []

    def rest(_seconds):
        seen.append({client for client, summary in summaries.of_everybody(site.db).items() if summary})
        return len(seen) == 2

    renew_rows(site.app, rest)
    assert seen == [{trained[3].id}, {trained[3].id, trained[2].id}], "and it ends when it is told to"


def test_the_background_leaves_nothing_for_a_look_to_read_and_nothing_to_itself(site, trained):
    renew_rows(site.app, lambda _: False)
    assert _look(site, 0)[1] == []
    assert that_differ(site.db) == []
    before = site.app.extensions["halfturn"].db().conn.total_changes
    renew_rows(site.app, lambda _: False)
    assert site.app.extensions["halfturn"].db().conn.total_changes == before


def test_no_log_is_read_while_others_wait_for_their_turn_at_writing(site, trained):
    statements, records = [], site.app.extensions["halfturn"].db()
    records.conn.set_trace_callback(statements.append)
    renew_rows(site.app, lambda _: False)
    records.conn.set_trace_callback(None)
    writes = "\n".join(statements).split("BEGIN IMMEDIATE")[1:]
    assert len(writes) == len(trained) + 3, "one for each client there is"
    assert not any("raw" in each.partition("COMMIT")[0] for each in writes)


def test_an_entry_that_comes_while_its_client_is_worked_out_makes_that_row_stale(site, trained):
    # The entry comes when the log has been read and folded, and before the row is written.
    def between(statement):
        if statement == "ROLLBACK":
            records.conn.set_trace_callback(None)
            site.receive(trained[3], [morning(FIRST_DAY + timedelta(days=3), 8, seq=77)])

    records = site.app.extensions["halfturn"].db()
    records.conn.set_trace_callback(between)
    renew_rows(site.app, lambda _: True)
    assert summaries.of_everybody(site.db)[trained[3].id] is None
    assert _look(site, 9)[1] == []
    assert that_differ(site.db) == []


def test_a_log_that_cannot_be_folded_keeps_no_other_from_being_worked_out(site, trained, caplog):
    with write(site.db):
        site.db.execute("UPDATE routine_versions SET settings = '{}' WHERE client = ?", (trained[3].id,))
    with caplog.at_level(logging.ERROR):
        renew_rows(site.app, lambda _: False)
    assert "cannot be folded" in caplog.text
    assert [client for client, summary in summaries.of_everybody(site.db).items() if summary is None] == [trained[3].id]


def test_the_background_looks_again_for_what_a_sync_has_made_stale(site, trained):
    waited = []

    def rest(seconds):
        waited.append(seconds)
        if seconds == RENEWED_EACH_SECONDS and waited.count(seconds) == 1:
            site.receive(trained[3], [morning(FIRST_DAY + timedelta(days=3), 8, seq=78)])
        return waited.count(RENEWED_EACH_SECONDS) == 2

    renew_rows_again_and_again(site.app, rest)
    assert _look(site, 0)[1] == []

"""Work beside the serving begins by itself and ends with the server."""

import threading
from dataclasses import replace

from tests.builders import days_of, empty_records, enrol, event, hire
from tests.cast import BELL_FOUNDER, FIRST_DAY, HEDDA
from tests.practice.put_on_record import put
from tests.serving.wire import PATIENCE, ask
from webapp.bench.served import serving
from webapp.records import summaries
from webapp.records.faults import RecordsError
from webapp.serving.background import beside


def test_work_is_told_to_end_when_the_server_does():
    begun, ended = threading.Event(), threading.Event()

    def work(rest):
        begun.set()
        if rest(PATIENCE):
            ended.set()

    with beside(work, 0):
        assert begun.wait(PATIENCE)
        assert not ended.is_set()
    assert ended.wait(0), "and the server waits for it"


def test_a_server_that_ends_at_once_begins_no_work():
    begun = threading.Event()
    with beside(lambda _: begun.set()):
        pass
    assert not begun.is_set()


def test_records_that_cannot_be_read_end_the_work_with_a_line(caplog, tmp_path):
    begun = threading.Event()

    def work(_rest):
        begun.set()
        raise RecordsError("gone", path=tmp_path)

    with beside(work, 0):
        assert begun.wait(PATIENCE)
    assert "ended early" in caplog.text


def test_a_server_reads_the_logs_anew_after_an_update_though_nobody_asks(tmp_path):
    path = tmp_path / "halfturn.db"
    db = empty_records(path)
    hedda = hire(db, HEDDA)
    for number in range(3):
        client = enrol(db, hedda.id, replace(BELL_FOUNDER, public_id=f"served{number:04}"))
        receipt = event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=900)
        put(db, client.id, [receipt, *days_of(FIRST_DAY, [(1, 1)] * 9)])
    assert summaries.not_stale(db) == []
    with serving(path) as running:
        answers = (ask(running.port, "/app/en/").status for _ in range(2000))
        assert any(len(summaries.not_stale(db)) == 3 for _ in answers)
    db.conn.close()

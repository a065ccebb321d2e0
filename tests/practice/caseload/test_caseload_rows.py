"""The caseload reads rows that are computed at each write. The rows must equal what the whole log gives."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests.amount import drawn
from tests.builders import days_of, empty_records, enrol, event, morning, release, session, uuid7
from tests.cast import BOOKBINDER, FIRST_DAY, HEDDA, NOW
from tests.practice.put_on_record import put, put_release
from webapp.dosing.release import Return
from webapp.library.routine import starter
from webapp.practice.caseload.lines import caseload_of
from webapp.practice.standing import NO_CONTACT, line_of
from webapp.records import cases, devices, practitioners, routines, summaries
from webapp.records.database import write
from webapp.records.summaries import StoredSummary
from webapp.sync.caseload.summary import DAYS_AHEAD, renew, that_differ
from webapp.sync.phone import guidance
from webapp.sync.phone.guidance import Asking

# Hypothesis does not search for a smaller example, since each example is slow.
steady = settings(max_examples=drawn(6, 30), phases=(Phase.explicit, Phase.generate))
ARMS = ("right", "left")
RATINGS = st.none() | st.integers(0, 9)
REPORTS = st.lists(st.tuples(RATINGS, RATINGS), min_size=3, max_size=10)
NOWS = st.integers(-2, 3 * DAYS_AHEAD)


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def _at(number):
    return NOW + timedelta(days=number)


def _shown(line):
    arms = [(stand.arm, stand.mode, stand.morning, stand.morning_on) for stand in line.standings]
    version = line.version and (line.version.version, line.version.received_at)
    return (
        line.case,
        line.today,
        arms,
        line.day,
        line.last_session_on,
        line.silent_days,
        version,
        line.contact,
        line.unread_letters,
        line.is_to_ask,
    )


def _from_rows(db, by, now):
    return {line.case.id: _shown(line) for line in caseload_of(db, by, now).lines}


def _from_logs(db, by, now):
    contacts = cases.contacts(db, by)
    client_lines = (line_of(db, case, contacts.get(case.id, NO_CONTACT), now) for case in cases.of_practitioner(db, by))
    return {line.case.id: _shown(line) for line in client_lines}


@pytest.fixture(scope="module")
def hired(tmp_path_factory):
    """One database for all examples; each example enrols its own client."""
    db = empty_records(tmp_path_factory.mktemp("records") / "halfturn.db")
    yield db, practitioners.add(db, HEDDA.name, HEDDA.email, "no password", NOW).id
    db.conn.close()


class Practice:
    """One client in the records, with a method for everything that may be written about the client."""

    def __init__(self, db, by, number):
        self.db, self.by = db, by
        self.client = enrol(db, by, replace(BOOKBINDER, public_id=f"rows{number:06}"))

    def push(self, arms):
        settings_pushed = {**BOOKBINDER.settings, "arms": list(arms), "usual": 1}
        routines.push(self.db, self.client.id, starter("wrist"), settings_pushed, "", self.by, NOW)

    def join(self):
        with write(self.db):
            return devices.join(self.db, self.client.id, "a phone", NOW)[0]

    def revoke(self):
        for phone in devices.of_client(self.db, self.client.id):
            devices.revoke(self.db, self.client.id, phone.id, NOW)

    def sync(self, number):
        """Sync a phone on a day, and compute the rows that this made stale."""
        with write(self.db):
            worked = guidance.work_out(self.db, Asking(self.client.id, _day(number), "en"), _at(number))
            guidance.keep(self.db, worked)


def _log(reports):
    last, days = len(reports) - 1, days_of(FIRST_DAY, reports, arms=ARMS)
    return [
        *days,
        event("routine_received", FIRST_DAY, {"version": 1, "bundle": "b"}, seq=900),
        # A version may be received before it is pushed, after a restore from a copy; and a phone's clock may be ahead.
        event("routine_received", _day(2), {"version": 2, "bundle": "b"}, seq=901),
        event("routine_received", _day(last + 9), {"version": 3, "bundle": "b"}, seq=906),
        event("entry_corrected", _day(last), {"replaces": uuid7(1), "body": None}, seq=902),
        event("entry_corrected", _day(1), {"replaces": uuid7(4), "body": session(_day(0), 3)["body"]}, seq=903),
        event("warning_raised", _day(last), {"sign": "numb", "arms": ["left"]}, seq=904),
        event("session_finished", _day(last + 5), session(_day(0), 9)["body"], seq=905, zone="Pacific/Auckland"),
        morning(_day(last + 7), 4, arms=ARMS, seq=907, zone="Nowhere/Land"),
    ]


ACTS = {
    "push both": lambda practice, _: practice.push(ARMS),
    "push one": lambda practice, _: practice.push(ARMS[:1]),
    "join": lambda practice, _: practice.join(),
    "revoke": lambda practice, _: practice.revoke(),
    "sync": lambda practice, number: practice.sync(number),
    "release": lambda practice, number: release(
        practice.db, practice.client.id, "left", Return(1, 1), _day(max(1, number)), NOW
    ),
    "release of nothing read": lambda practice, number: put_release(
        practice.db, practice.client.id, "left", _day(max(1, number))
    ),
}


@pytest.mark.drawn
@steady
@given(reports=REPORTS, data=st.data())
def test_the_caseload_from_the_rows_is_the_caseload_from_the_whole_logs(hired, reports, data):
    db, by = hired
    practice = Practice(db, by, db.execute("SELECT COUNT(*) FROM clients").fetchone()[0])
    acts = data.draw(st.lists(st.tuples(st.sampled_from(sorted(ACTS)), st.integers(0, 14)), min_size=4, max_size=12))
    steps = data.draw(st.permutations([*_log(reports), *acts]))
    for number, step in enumerate(steps):
        if isinstance(step, dict):
            put(db, practice.client.id, [step])
        else:
            ACTS[step[0]](practice, step[1])
        if number % 3 == 0:
            _compare(db, by, practice.client.id, data.draw(NOWS))
    for each in data.draw(st.lists(NOWS, min_size=3, max_size=5)):
        _compare(db, by, practice.client.id, each)
    with write(db):
        db.execute("UPDATE clients SET ended_at = 'ended' WHERE id = ?", (practice.client.id,))


def _compare(db, by, client, number):
    assert _from_rows(db, by, _at(number))[client] == _from_logs(db, by, _at(number))[client]
    assert that_differ(db) == []


@pytest.fixture
def practice(db_path):
    """A client after two weeks of good days."""
    db = empty_records(db_path)
    practice = Practice(db, practitioners.add(db, HEDDA.name, HEDDA.email, "no password", NOW).id, 1)
    receipt = event("routine_received", FIRST_DAY, {"version": 1, "bundle": "b"}, seq=900)
    put(db, practice.client.id, [receipt, *days_of(FIRST_DAY, [(1, 1)] * 14, arms=ARMS)])
    yield practice
    db.conn.close()


def _statements(db, work):
    statements = []
    db.conn.set_trace_callback(statements.append)
    work()
    db.conn.set_trace_callback(None)
    return statements


def _look(practice, number):
    return _statements(practice.db, lambda: caseload_of(practice.db, practice.by, _at(number)))


def test_a_look_reads_no_event_and_writes_nothing_on_later_days_too(practice):
    assert any("raw" in each for each in _look(practice, 14)), "the first look folds"
    first = _look(practice, 14)
    assert not [each for each in first if "raw" in each or each.startswith(("BEGIN", "INSERT", "UPDATE"))]
    assert _look(practice, 14 + DAYS_AHEAD - 1) == first


def test_a_look_takes_as_many_statements_for_ten_clients_as_for_one(practice):
    _look(practice, 14)
    first = len(_look(practice, 14))
    for number in range(2, 11):
        Practice(practice.db, practice.by, number)
    _look(practice, 14)
    assert len(_look(practice, 14)) == first


def test_what_a_sync_wrote_is_in_the_summary_at_once_and_in_the_glance_before_anybody_looks(practice):
    put(practice.db, practice.client.id, [session(_day(14), 9, arms=ARMS, sharp=True, seq=700)])
    practice.sync(14)
    assert summaries.find(practice.db, practice.client.id) is not None
    assert summaries.find(practice.db, practice.client.id, summaries.GLANCES) is None, "a sync folds no whole log"
    renew(practice.db, lambda: _at(14), lambda _: False)
    assert not [each for each in _look(practice, 14) if "raw" in each]
    assert {stand.mode for stand in caseload_of(practice.db, practice.by, _at(14)).lines[0].standings} == {"held"}


def test_an_event_and_a_push_make_a_row_stale(practice):
    for write_something in (
        lambda: put(practice.db, practice.client.id, [morning(_day(3), 8, arms=ARMS, seq=701)]),
        lambda: practice.push(ARMS[:1]),
    ):
        caseload_of(practice.db, practice.by, _at(14))
        assert summaries.not_stale(practice.db)
        write_something()
        assert summaries.not_stale(practice.db) == []


def test_a_row_that_says_something_else_than_the_log_is_found(practice):
    caseload_of(practice.db, practice.by, _at(14))
    assert that_differ(practice.db) == []
    public_id, kept = summaries.not_stale(practice.db)[0]
    with write(practice.db):
        wrong = kept.content.replace('"training"', '"resting"')
        summaries.keep(practice.db, [StoredSummary(kept.client, kept.through_seq, kept.version, wrong)])
    assert that_differ(practice.db) == [public_id]


def test_a_glance_that_says_something_else_than_the_log_is_found(practice):
    caseload_of(practice.db, practice.by, _at(14))
    public_id, kept = summaries.not_stale(practice.db, summaries.GLANCES)[0]
    wrong = replace(kept, content=kept.content.replace('"settled"', '"flared"'))
    assert wrong != kept
    with write(practice.db):
        summaries.keep(practice.db, [wrong], summaries.GLANCES)
    assert that_differ(practice.db) == [public_id]

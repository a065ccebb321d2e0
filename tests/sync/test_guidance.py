"""A sync that changes nothing folds nothing and writes nothing; a cached answer is sent only while it is not stale."""

import json
from datetime import timedelta

import msgspec
import pytest

from tests.builders import days_of, release, session
from tests.cast import FIRST_DAY, NOW
from webapp.dosing.release import Return
from webapp.library.faults import NotAcceptedError
from webapp.records import devices, events, folded, routines
from webapp.records.database import instant, write
from webapp.sync.phone.serve import NOTED_EACH, PhoneBatch, Speaker, answer_sync


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def _at(number):
    return NOW + timedelta(days=number)


@pytest.fixture
def phone(db, ansgar):
    """A phone that has synced on the sixth day, after five good days."""
    with write(db):
        device, _ = devices.join(db, ansgar.id, "a phone", NOW)
    phone = Phone(db, ansgar, device)
    receipt = {"kind": "routine_received", "body": {"version": 1, "bundle": "b"}}
    phone.sync({**session(FIRST_DAY, seq=900), **receipt}, *days_of(FIRST_DAY, [(1, 1)] * 5), number=5)
    return phone


class Phone:
    """A phone that remembers its cursor, and the SQL statements of its last sync."""

    def __init__(self, db, client, device):
        self.db, self.client, self.device = db, client, device
        self.has, self.cost = {"epoch": None, "cursor": 0, "bundle_hash": None}, []

    def sync(self, *sent, number=5, later=0, ahead=0):
        who = Speaker(self.client.id, self.client.public_id, "Ansgar", self.device)
        raws = [json.dumps(event).encode() for event in sent]
        batch = PhoneBatch(
            _day(number + ahead), "en", self.has["epoch"], self.has["cursor"], self.has["bundle_hash"], raws
        )
        now, self.cost = _at(number) + timedelta(seconds=later), []
        self.db.conn.set_trace_callback(self.cost.append)
        try:
            answer = msgspec.json.decode(msgspec.json.encode(answer_sync(self.db, who, batch, now)))
        finally:
            self.db.conn.set_trace_callback(None)
        self.has = {key: answer[key] for key in self.has}
        return answer

    def writes(self):
        return sum(each == "COMMIT" for each in self.cost)

    def folds(self):
        return sum("FROM folded" in each for each in self.cost)


def test_a_sync_with_entries_folds_once_and_commits_once(phone):
    phone.sync(session(_day(5), seq=800))
    assert (phone.folds(), phone.writes()) == (1, 1)


def test_an_empty_sync_folds_nothing_and_writes_nothing_and_says_the_same(phone):
    before = phone.sync(session(_day(5), seq=800))
    answer = phone.sync()
    assert (phone.folds(), phone.writes()) == (0, 0)
    assert answer["anchors"] == before["anchors"]
    assert answer["bundle_hash"] == before["bundle_hash"]
    # The few entries of the screening are looked up by an index of their own.
    read = [each for each in phone.cost if "raw" in each and "FROM events" in each and "seq >" not in each]
    assert not [each for each in read if "screening_answered" not in each]


def test_an_empty_sync_a_minute_later_notes_that_the_phone_was_there_and_folds_nothing(phone):
    seconds = int(NOTED_EACH.total_seconds())
    phone.sync()
    phone.sync(later=seconds)
    assert (phone.folds(), phone.writes()) == (0, 1)
    noted = devices.of_client(phone.db, phone.client.id)[0].last_sync_at
    assert noted == instant(_at(5) + NOTED_EACH)
    phone.sync(later=2 * seconds - 1)
    assert (phone.folds(), phone.writes()) == (0, 0)


def test_the_first_sync_of_a_new_day_folds_once(phone):
    before = phone.sync()
    answer = phone.sync(number=6)
    assert phone.folds() == 1
    assert answer["anchors"] != before["anchors"]
    phone.sync(number=6)
    assert phone.folds() == 0


def test_a_push_a_release_and_a_bundle_made_anew_are_told_at_once(phone):
    stopped = phone.sync(session(_day(5), 9, sharp=True, seq=801))
    release(phone.db, phone.client.id, "right", Return(1, 1), _day(6), _at(5))
    released = phone.sync(number=6)
    assert released["anchors"] != stopped["anchors"]
    latest = routines.latest(phone.db, phone.client.id)
    routines.push(phone.db, phone.client.id, latest.routine, latest.settings, "New note", latest.pushed_by, _at(6))
    assert phone.sync(number=6)["bundle"]["routine"]["note"] == "New note"
    with write(phone.db):
        phone.db.execute("DELETE FROM bundles")
    assert phone.sync(number=6)["bundle_hash"] == released_hash(phone)


def released_hash(phone):
    return phone.db.execute("SELECT hash FROM bundles").fetchone()[0]


def test_entries_are_kept_where_the_fold_meets_a_fault(phone):
    routines.push(phone.db, phone.client.id, {"title": 5}, {}, "", 1, NOW)
    with pytest.raises(NotAcceptedError):
        phone.sync(session(_day(5), seq=802))
    assert phone.client.id
    assert [each.id for each in events.of_client(phone.db, phone.client.id)][-1] == session(_day(5), seq=802)["id"]


def test_a_phone_whose_clock_stands_a_year_ahead_gets_its_anchors_and_leaves_the_caseload_alone(phone):
    before = phone.db.execute("SELECT told FROM summaries").fetchall()
    assert phone.sync(ahead=365)["anchors"]["right"]["on"] == _day(367).isoformat()
    assert phone.db.execute("SELECT told FROM summaries").fetchall() == before
    assert folded.find(phone.db, phone.client.id).day == _day(364).isoformat()

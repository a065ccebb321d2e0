import json
import threading

import pytest

from tests.builders import days_of, event, morning, session, uuid7
from tests.cast import FIRST_DAY, NOW
from webapp.records import events, routines
from webapp.records.database import open_records
from webapp.sync.log.take import MOST_BYTES, take_batch

A_FORTNIGHT = [(1, 2), (2, None), (None, 1), (4, 3), (1, 1), (2, 1), (1, 0)]


def _statuses(results):
    return [result.status for result in results]


def _log(db, client):
    return {event.id: json.loads(event.raw) for event in events.of_client(db, client.id)}


def test_a_batch_is_stored_in_the_order_given(db, ansgar, send):
    sent = days_of(FIRST_DAY, A_FORTNIGHT)
    assert _statuses(send(ansgar, *sent)) == ["stored"] * len(sent)
    assert [event.id for event in events.of_client(db, ansgar.id)] == [event["id"] for event in sent]


def test_an_event_is_kept_to_the_letter_with_fields_that_are_not_known(db, ansgar):
    raw = json.dumps({**session(FIRST_DAY), "weather": "fog"}, indent=3).encode()
    take_batch(db, ansgar.id, "phone", [raw], NOW)
    assert events.of_client(db, ansgar.id)[0].raw == raw.decode()


def test_a_kind_that_is_not_known_is_stored_for_a_newer_program(ansgar, send):
    assert _statuses(send(ansgar, event("kite_flown", FIRST_DAY, {"metres": 40}))) == ["stored"]


def test_a_second_copy_of_a_batch_changes_nothing(db, ansgar, send):
    sent = days_of(FIRST_DAY, A_FORTNIGHT)
    send(ansgar, *sent)
    before = events.of_client(db, ansgar.id)
    assert _statuses(send(ansgar, *sent)) == ["duplicate"] * len(sent)
    assert events.of_client(db, ansgar.id) == before


def test_a_copy_whose_fields_stand_in_another_order_is_a_duplicate(ansgar, send):
    sent = session(FIRST_DAY)
    assert _statuses(send(ansgar, sent, dict(reversed(sent.items())))) == ["stored", "duplicate"]


def test_a_batch_in_pieces_that_overlap_ends_in_the_same_log(db, ansgar, mirela, send):
    sent = days_of(FIRST_DAY, A_FORTNIGHT)
    send(ansgar, *sent)
    for piece in (sent[:4], sent[2:7], sent[5:]):
        send(mirela, *piece)
    assert _log(db, ansgar) == _log(db, mirela)


def test_one_bad_event_among_good_ones_stops_none_of_them(db, ansgar, send):
    good = days_of(FIRST_DAY, A_FORTNIGHT)
    bad = morning(FIRST_DAY, 11, seq=99)
    results = send(ansgar, *good[:3], bad, *good[3:])
    assert _statuses(results) == ["stored"] * 3 + ["rejected"] + ["stored"] * (len(good) - 3)
    refused = results[3]
    assert (refused.id, refused.code) == (bad["id"], "not_in_range")
    assert refused.gaps == {"field": "body.arms.right.pain", "value": "11", "rule": "a whole number from 0 to 10"}
    assert json.loads(events.set_aside_of(db, ansgar.id)[0].raw) == bad


@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (b"7", "not_an_object"),
        (b"[]", "not_an_object"),
        (b"null", "not_an_object"),
        (b'"\xff"', "not_an_object"),
        (b"[" * 4000 + b"]" * 4000, "not_an_object"),
        (b'{"id": 4}', "wrong_form"),
        (b'{"id": "' + b"a" * MOST_BYTES + b'"}', "event_too_large"),
    ],
    ids=["number", "list", "null", "no text", "deep", "no id", "large"],
)
def test_whatever_stands_where_an_event_should_is_refused_alone(ansgar, db, raw, code):
    good = json.dumps(session(FIRST_DAY)).encode()
    results = take_batch(db, ansgar.id, "phone", [raw, good], NOW)
    assert _statuses(results) == ["rejected", "stored"]
    assert (results[0].id, results[0].code) == ("", code)


def test_a_day_that_no_calendar_here_reaches_is_refused(ansgar, send):
    results = send(ansgar, {**session(FIRST_DAY), "on": "0001-01-01"}, {**session(FIRST_DAY), "on": "9999-12-31"})
    assert [(result.status, result.gaps["field"]) for result in results] == [("rejected", "on")] * 2


def test_the_same_id_with_other_content_is_a_conflict_and_the_first_stands(db, ansgar, send):
    first, other = session(FIRST_DAY, 1), session(FIRST_DAY, 9)
    assert _statuses(send(ansgar, first)) == ["stored"]
    results = send(ansgar, other, phone="second phone")
    assert (results[0].status, results[0].code) == ("conflict", "same_id_other_content")
    assert _log(db, ansgar) == {first["id"]: first}
    assert json.loads(events.set_aside_of(db, ansgar.id)[0].raw) == other


def test_a_conflict_inside_one_batch_is_found_too(db, ansgar, send):
    assert _statuses(send(ansgar, session(FIRST_DAY, 1), session(FIRST_DAY, 9))) == ["stored", "conflict"]


def test_a_phone_cannot_release_its_own_hold(db, ansgar, send):
    results = send(
        ansgar,
        event(
            "hold_released",
            FIRST_DAY,
            {"arms": {"right": {"rung": 1, "range": 0.5, "covers": [], "reason": "", "by": ""}}},
        ),
    )
    assert (results[0].status, results[0].code) == ("rejected", "not_from_a_phone")
    assert events.of_client(db, ansgar.id) == []


def test_the_same_event_of_two_phones_is_stored_once(db, ansgar, send):
    sent = days_of(FIRST_DAY, A_FORTNIGHT)
    send(ansgar, *sent[:5], phone="old")
    assert _statuses(send(ansgar, *sent[3:], phone="new")) == ["duplicate"] * 2 + ["stored"] * (len(sent) - 5)
    assert list(_log(db, ansgar).values()) == sent


def test_two_phones_that_send_at_one_moment_end_in_one_log(db, db_path, ansgar):
    sent = [session(FIRST_DAY, seq=number) for number in range(1, 41)]
    halves = sent[:25], sent[15:]

    def send_one_by_one(phone, half):
        own = open_records(db_path)
        for each in half:
            take_batch(own, ansgar.id, phone, [json.dumps(each).encode()], NOW)
        own.conn.close()

    threads = [threading.Thread(target=send_one_by_one, args=(str(i), half)) for i, half in enumerate(halves)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    stored = events.of_client(db, ansgar.id)
    assert [event.seq for event in stored] == list(range(1, 41))
    assert {event.id for event in stored} == {event["id"] for event in sent}


def test_events_go_to_the_client_behind_the_phone_and_to_no_other(db, ansgar, mirela, send):
    send(ansgar, session(FIRST_DAY))
    assert events.of_client(db, mirela.id) == []
    assert _statuses(send(mirela, session(FIRST_DAY, 5))) == ["stored"], "the same id in another log is no conflict"


def test_a_receipt_tells_the_practitioner_when_a_phone_had_the_routine(db, ansgar, mirela, send, received):
    send(ansgar, received())
    version = routines.latest(db, ansgar.id)
    assert (version.received_on, version.received_at) == ("2026-03-02", "2026-03-02T09:30:00.000Z")
    assert routines.latest(db, mirela.id).received_on is None


def test_a_batch_is_stored_whole_or_not_at_all(db, ansgar, send):
    db.execute(f"CREATE TEMP TRIGGER full BEFORE INSERT ON events WHEN NEW.id = '{uuid7(3)}'"
               " BEGIN SELECT RAISE(ABORT, 'disk full'); END")  # fmt: skip
    with pytest.raises(Exception, match="disk full"):
        send(ansgar, *[session(FIRST_DAY, seq=number) for number in (1, 2, 3)])
    assert events.of_client(db, ansgar.id) == []
    db.execute("DROP TRIGGER temp.full")
    assert _statuses(send(ansgar, session(FIRST_DAY))) == ["stored"]


def test_a_day_out_of_range_is_named_as_it_was_written(db, ansgar, send):
    fault = send(ansgar, {**session(FIRST_DAY), "on": "2200-01-01"})[0].gaps
    assert (fault["field"], fault["value"]) == ("on", "2200-01-01")

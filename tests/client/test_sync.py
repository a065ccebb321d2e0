import gzip
import json
from datetime import timedelta

import brotli
import msgspec
import pytest

from tests.builders import days_of, morning, session
from tests.cast import FIRST_DAY
from webapp.client.api import MOST_BODY_BYTES
from webapp.records import devices, epoch, events, invitations
from webapp.records.database import write
from webapp.wire import sync as wire
from webapp.wire.bundle import Bundle
from webapp.wire.entries import AnyEntry
from webapp.wire.sync import Reply

OWN = {"Sec-Fetch-Site": "same-origin"}


def _ids(db, client):
    return [row.id for row in events.of_client(db, client.id)]


def test_a_sync_stores_events_and_brings_what_a_phone_needs(phone, db, ansgar):
    sent = days_of(FIRST_DAY, [(1, 1)] * 3)
    answer = phone.sync(*sent)
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.json.keys() == {
        "format", "epoch", "results", "cursor", "events", "more", "client", "practitioner", "start", "bundle", "bundle_hash",
        "anchors", "received_at",
    }  # fmt: skip
    assert [result["status"] for result in answer.json["results"]] == ["stored"] * 6
    assert _ids(db, ansgar) == [event["id"] for event in sent]


def test_a_bad_event_is_refused_in_words_and_the_good_ones_are_stored(phone, db, ansgar):
    good, bad = session(FIRST_DAY, seq=1), morning(FIRST_DAY, 42, seq=2)
    results = phone.sync(good, bad, session(FIRST_DAY, seq=3)).json["results"]
    assert [result["status"] for result in results] == ["stored", "rejected", "stored"]
    assert results[1] == {
        "id": bad["id"],
        "status": "rejected",
        "code": "not_in_range",
        "message": "“body.arms.right.pain” is 42; the rule is: a whole number from 0 to 10.",
        "again": False,
    }
    assert len(_ids(db, ansgar)) == 2


def test_every_refusal_of_an_event_has_its_sentence(phone):
    first, kind = session(FIRST_DAY, seq=1), {**session(FIRST_DAY, seq=2), "kind": "hold_released"}
    kind["body"] = {"arms": {"right": {"rung": 1, "range": 0.5, "covers": [], "reason": "", "by": ""}}}
    large = {**session(FIRST_DAY, seq=3), "more": "x" * 40_000}
    results = phone.sync(7, kind, large, first, {**first, "zone": "Europe/Rome"}).json["results"]
    assert [result["code"] for result in results] == [
        "not_an_object", "not_from_a_phone", "event_too_large", "", "same_id_other_content",
    ]  # fmt: skip
    assert all(
        result["message"].endswith(".") and "%(" not in result["message"] for result in results if result["code"]
    )


def test_half_a_character_in_one_note_does_not_keep_the_rest_from_being_stored(phone, db, ansgar):
    note = session(FIRST_DAY, seq=1)
    note["body"]["note"] = "cut in the middle of \ud83d"
    twice = [phone.sync(note, session(FIRST_DAY, seq=2)).json["results"] for _ in range(2)]
    assert [[result["status"] for result in results] for results in twice] == [["stored"] * 2, ["duplicate"] * 2]
    assert json.loads(events.of_client(db, ansgar.id)[0].raw)["body"]["note"] == "cut in the middle of ?"


def test_without_a_cookie_nothing_is_said_and_nothing_redirects(stranger, ansgar):
    stranger.client = ansgar.public_id
    for answer in (stranger.sync(session(FIRST_DAY)), stranger.browser.get("/api/me")):
        assert (answer.status_code, answer.mimetype) == (401, "application/json")
        assert answer.json["error"]["code"] == "not_joined"
        assert answer.headers["Cache-Control"] == "no-store"


def test_a_made_up_cookie_is_no_cookie(stranger, ansgar):
    stranger.client = ansgar.public_id
    stranger.browser.set_cookie("halfturn_device", "x" * 43, domain="127.0.0.1")
    assert stranger.sync().status_code == 401


def test_a_revoked_phone_is_refused_and_stores_nothing(phone, db, ansgar, clock):
    devices.revoke(db, ansgar.id, phone.device, clock.now)
    assert phone.sync(session(FIRST_DAY)).status_code == 401
    assert _ids(db, ansgar) == []


def test_the_queue_of_another_client_is_refused_whole(phone, other_phone, db, ansgar, isaura):
    answer = phone.sync(session(FIRST_DAY), client=isaura.public_id)
    assert (answer.status_code, answer.json["error"]["code"]) == (409, "another_client")
    assert _ids(db, ansgar) == _ids(db, isaura) == []


def test_a_client_reads_nothing_of_another(phone, other_phone, db, isaura):
    other_phone.sync(session(FIRST_DAY, arms=("left",), seq=7))
    phone.sync(session(FIRST_DAY, seq=8))
    answer = phone.sync(cursor=0).json
    assert [row["event"]["seq"] for row in answer["events"]] == [8]
    assert "isaura" not in json.dumps(answer).lower()
    assert answer["client"]["name_shown"] == "Ansgar"
    unsaid = {"telephone": "", "hours": "", "email": "", "letters_read": ""}
    assert answer["practitioner"] == {"name": "Hedda Marrow", **unsaid}


def test_an_id_of_another_clients_event_says_nothing_about_it(phone, other_phone):
    other_phone.sync(session(FIRST_DAY, arms=("left",), seq=7))
    assert phone.sync(session(FIRST_DAY, seq=7)).json["results"][0]["status"] == "stored"


def test_a_phone_of_two_holds_what_the_other_sent(phone, stranger, db, ansgar, clock):
    second = stranger
    second.join(token=invitations.make_link(db, ansgar.id, clock.now).token)
    sent = days_of(FIRST_DAY, [(1, 1)] * 2)
    phone.sync(*sent[:3])
    answer = second.sync(*sent[2:])
    assert [result["status"] for result in answer.json["results"]] == ["duplicate", "stored"]
    assert [row["event"] for row in answer.json["events"]] == sent


def plain(value):
    """Return structs as JSON has them."""
    return msgspec.json.decode(msgspec.json.encode(value))


def test_a_reply_has_the_fields_of_its_struct_and_no_other(phone):
    phone.sync(*days_of(FIRST_DAY, [(1, 1)] * 2))
    answer = phone.sync(session(FIRST_DAY, seq=7), {"id": "no entry"}).json
    assert {result["status"] for result in answer["results"]} == {"stored", "rejected"}
    assert list(answer) == list(Reply.__struct_fields__)
    assert plain(msgspec.convert(answer["results"], list[wire.Result])) == answer["results"]
    anchors = msgspec.convert(answer["anchors"], dict[str, wire.Anchor])
    assert anchors, "a client with a routine has anchors"
    assert plain(anchors) == answer["anchors"]
    assert plain(msgspec.convert(answer["bundle"], Bundle)) == answer["bundle"]
    carried = [row["event"] for row in answer["events"]]
    assert carried, "the phone begins at the start of the log"
    assert plain(msgspec.convert(carried, list[AnyEntry])) == carried


@pytest.mark.parametrize(
    ("change", "status", "code"),
    [
        ({"format": 2}, 400, "bad_format"),
        ({"on": "yesterday"}, 400, "bad_day"),
        ({"on": "0001-01-01"}, 400, "bad_day"),
        ({"on": "1999-12-31"}, 400, "bad_day"),
        ({"on": "20260302"}, 400, "bad_day"),
        ({"on": "2026-W10-1"}, 400, "bad_day"),
        ({"cursor": "7"}, 400, "bad_request"),
        ({"events": "none"}, 400, "bad_request"),
        ({"events": [7] * 101}, 413, "too_large"),
        ({"events": ["x" * MOST_BODY_BYTES]}, 413, "too_large"),
    ],
    ids=[
        "format",
        "no day",
        "far day",
        "day before the first",
        "no dashes",
        "a week",
        "cursor",
        "no list",
        "many",
        "large",
    ],
)
def test_a_request_that_cannot_be_read_is_refused_with_what_is_wrong(phone, change, status, code):
    answer = phone.sync(**change)
    assert (answer.status_code, answer.json["error"]["code"], answer.json["error"]["again"]) == (status, code, False)


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[" * 5000], ids=["nothing", "half", "no text", "deep"])
def test_broken_json_is_refused(phone, body):
    answer = phone.browser.post("/api/sync", data=body, content_type="application/json", headers=OWN)
    assert (answer.status_code, answer.json["error"]["code"]) == (400, "bad_request")


def test_another_content_type_is_refused(phone):
    answer = phone.browser.post("/api/sync", data={"events": ""}, headers=OWN)
    assert (answer.status_code, answer.json["error"]["code"]) == (415, "not_json")


@pytest.mark.parametrize(("accepted", "coding"), [("gzip, br", "br"), ("gzip", "gzip"), ("gzip;q=0, br;q=0", None)])
def test_a_large_answer_is_compressed_where_the_browser_takes_it(phone, accepted, coding):
    plain = phone.sync()
    packed = phone.sync(headers={**OWN, "Accept-Encoding": accepted})
    unpack = {"br": brotli.decompress, "gzip": gzip.decompress, None: bytes}[coding]
    assert (packed.headers.get("Content-Encoding"), packed.headers["Vary"]) == (coding, "Accept-Encoding")
    assert json.loads(unpack(packed.data)) == plain.json
    assert coding is None or len(packed.data) < len(plain.data) / 4


def test_the_epoch_changes_after_a_restore_and_the_phone_gets_its_log_anew(phone, db):
    first = phone.sync(session(FIRST_DAY)).json
    again = phone.sync(epoch=first["epoch"], cursor=1).json
    assert (again["epoch"], again["events"]) == (first["epoch"], [])
    with write(db):
        epoch.renew(db)
    answer = phone.sync(epoch=first["epoch"], cursor=1).json
    assert answer["epoch"] != first["epoch"]
    assert len(answer["events"]) == 1


def test_a_sync_is_noted_for_the_practitioner(phone, db, ansgar, clock):
    clock.now += timedelta(hours=1)
    phone.sync()
    assert devices.of_client(db, ansgar.id)[0].last_sync_at == "2026-03-02T10:30:00.000Z"

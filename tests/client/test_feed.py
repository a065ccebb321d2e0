"""The calendar at a secret address: re-made when times change, ended when asked, and silent about whose it is."""

from datetime import UTC, datetime, time

import pytest
from ical.calendar_stream import IcsCalendarStream

from tests.cast import NOW
from tests.client.conftest import OWN, Phone
from webapp.events.course_set import SetCourse
from webapp.records import invitations, new_life
from webapp.records.database import instant, write
from webapp.sync.case.finishing import seal, set_course


@pytest.fixture
def second_phone(app, db, phone, ansgar):
    """Another phone of the bell founder."""
    joined = Phone(app)
    joined.join(token=invitations.make_link(db, ansgar.id, NOW).token)
    return joined


def posted(phone, key="", **times):
    return phone.browser.post("/api/feed", json={"times": times, "key": key}, headers=OWN)


def followed(app, key):
    """The events that somebody without a cookie gets at the address."""
    answer = app.test_client().get(f"/calendar/{key}.ics")
    if answer.status_code != 200:
        return answer.status_code
    assert (answer.mimetype, answer.headers["Cache-Control"]) == ("text/calendar", "no-store")
    assert "Set-Cookie" not in answer.headers
    return IcsCalendarStream.calendar_from_ics(answer.text).events


def test_a_calendar_follows_the_times_at_the_same_address(app, phone):
    key = posted(phone, morning="07:30", second="17:05").json["key"]
    first, second = followed(app, key)
    assert [(each.dtstart.hour, each.dtstart.minute) for each in (first, second)] == [(7, 30), (17, 5)]
    assert (first.dtstart.tzinfo, first.summary) == (None, "Ten minutes")
    assert posted(phone, key, morning="06:45").json["key"] == key
    [after] = followed(app, key)
    assert (after.uid, after.sequence, after.dtstart.minute) == (first.uid, first.sequence + 1, 45)


def test_an_address_ends_when_no_time_is_left_and_when_a_new_one_is_made(app, phone):
    key = posted(phone, morning="07:30").json["key"]
    other = posted(phone, morning="07:30").json["key"]
    assert key != other
    assert followed(app, key) == 404
    assert len(followed(app, other)) == 1
    assert posted(phone, other).json == {"key": ""}
    assert followed(app, other) == 404


def test_only_the_phone_that_has_the_address_ends_it(app, phone, second_phone):
    key = posted(phone, morning="07:30").json["key"]
    other = posted(second_phone, morning="08:15").json["key"]
    assert posted(phone, key).json == {"key": ""}
    assert len(followed(app, other)) == 1
    assert posted(second_phone, other).json == {"key": ""}
    assert followed(app, other) == 404


def test_an_address_ends_with_the_last_phone_and_does_not_come_back_with_a_new_one(
    app, db, phone, ansgar, second_phone
):
    key = posted(phone, morning="07:30").json["key"]
    second_phone.browser.post("/api/leave", json={}, headers=OWN)
    assert len(followed(app, key)) == 1
    phone.browser.post("/api/leave", json={}, headers=OWN)
    assert followed(app, key) == 404
    Phone(app).join(token=invitations.make_link(db, ansgar.id, NOW).token)
    assert followed(app, key) == 404


def test_an_address_ends_with_the_client(app, db, phone):
    key = posted(phone, morning="07:30").json["key"]
    with write(db):
        db.execute("UPDATE clients SET ended_at = ?", (instant(NOW),))
    assert followed(app, key) == 404


def test_nothing_in_it_tells_whose_it_is(app, phone):
    key = posted(phone, morning="07:30").json["key"]
    text = app.test_client().get(f"/calendar/{key}.ics").text.lower()
    for word in (phone.client, "wrist", "elbow", "pain", "exercise", "http", "@"):
        assert word.lower() not in text


@pytest.mark.parametrize("time", ["7:30", "24:00", "12:60", "07:30\r\nX:1", "07:30\n", "", 730])
def test_what_is_no_time_is_refused(phone, time):
    answer = posted(phone, morning=time)
    assert (answer.status_code, answer.json["error"]["code"]) == (400, "bad_request")


def test_a_stranger_changes_no_calendar_and_finds_none(app, phone):
    key = posted(phone, morning="07:30").json["key"]
    stranger = app.test_client()
    assert stranger.post("/api/feed", json={"times": {}, "key": key}, headers=OWN).status_code == 401
    assert len(followed(app, key)) == 1
    for wrong in ("", "b", key[:-1], key + "A", "%00"):
        assert followed(app, wrong) == 404


def test_the_address_is_stored_as_a_hash_and_does_not_outlive_a_restore(app, db, phone):
    key = posted(phone, morning="07:30").json["key"]
    assert key not in repr(db.execute("SELECT * FROM feeds").fetchall())
    new_life.begin(db, [], datetime(2026, 3, 2, tzinfo=UTC))
    assert followed(app, key) == 404


def test_the_calendar_reminds_no_more_once_the_course_has_ended(app, db, phone, ansgar):
    key = posted(phone, morning="07:30").json["key"]
    [before] = followed(app, key)
    end = SetCourse("ended", 0, NOW.date(), "Well done.", "Hedda Marrow")
    set_course(db, ansgar.id, end, seal(()), now=NOW)
    [after] = followed(app, key)
    assert (before.rrule.until, after.rrule.until) == (None, datetime.combine(NOW.date(), time()))
    assert (after.uid, after.sequence) == (before.uid, before.sequence + 1)

    again = SetCourse("training", 0, NOW.date(), "On again.", "Hedda Marrow")
    set_course(db, ansgar.id, again, seal((end,)), now=NOW)
    [last] = followed(app, key)
    assert (last.rrule.until, last.sequence) == (None, after.sequence + 1)

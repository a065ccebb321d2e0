"""A phone that has sent too much today gets an error that says so, keeps its events, and may sync again tomorrow."""

import json
from datetime import timedelta

from tests.builders import event, session, uuid7
from tests.cast import FIRST_DAY
from webapp.records import epoch, events
from webapp.records.database import write
from webapp.records.events import NewEvent

LONG = "f" * 31_000
ENTRIES = 640


def _sent_already(db, client, device, now):
    """Record that the phone has sent almost all bytes that it may send today."""
    raws = [json.dumps({**event("kite_flown", FIRST_DAY, {}, seq=seq), "weather": LONG}) for seq in range(1, ENTRIES)]
    new = [NewEvent(uuid7(seq), "2026-03-02", "kite_flown", seq, raw, "") for seq, raw in enumerate(raws, 1)]
    with write(db):
        events.append(db, client, device, new, now)


def test_a_phone_that_runs_in_circles_is_refused_until_tomorrow(phone, db, ansgar, clock):
    _sent_already(db, ansgar.id, phone.device, clock.now)
    read = {"cursor": events.newest_seq(db, ansgar.id), "epoch": epoch.of_client(db, ansgar.id)}
    more = [{**session(FIRST_DAY, seq=seq), "weather": LONG} for seq in range(ENTRIES, ENTRIES + 12)]
    answer = phone.sync(*more, **read)
    error = answer.json["error"]
    assert (answer.status_code, error["code"], error["again"]) == (429, "too_much_today", True)
    assert answer.headers["Retry-After"] == str(int(timedelta(hours=14, minutes=30).total_seconds()))
    assert "All of it stays on the phone and is sent tomorrow." in error["message"]
    assert events.newest_seq(db, ansgar.id) == read["cursor"]
    assert phone.sync(**read).status_code == 200, "what is new for the phone still reaches it"
    clock.now += timedelta(hours=14, minutes=30)
    assert phone.sync(*more, **read).status_code == 200

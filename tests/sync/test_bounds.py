"""The amount that is stored for one phone: a real backlog completely, an endless loop only up to a limit."""

import json
from datetime import date, datetime, timedelta

import pytest

from tests.builders import event, morning, session, uuid7
from tests.cast import FIRST_DAY, NOW
from webapp.records import events
from webapp.records.events import NewEvent
from webapp.sync.limits import bounds
from webapp.sync.limits.bounds import MOST_REFUSED, MOST_REFUSED_A_DAY, MOST_TAKEN_A_DAY, TooMuchError
from webapp.sync.log.take import take_batch

MONTHS_AWAY = 90
BATCH = 100


def _bad(number: int, letters: int = 0) -> bytes:
    """Return an entry that is refused for its pain of 11, with a note of `letters` letters."""
    return json.dumps({**morning(FIRST_DAY, 11, seq=number), "weather": "f" * letters}).encode()


def _throw(db, client, raws, now: datetime = NOW, phone: str = "phone") -> list[str]:
    batches = [raws[first : first + BATCH] for first in range(0, len(raws), BATCH)]
    return [result.code for batch in batches for result in take_batch(db, client.id, phone, batch, now)]


def test_refused_entries_are_kept_aside_up_to_a_number_in_a_day(db, ansgar):
    codes = _throw(db, ansgar, [_bad(number) for number in range(700)])
    assert codes == ["not_in_range"] * 500 + ["refused_not_kept"] * 200
    assert len(events.set_aside_of(db, ansgar.id)) == MOST_REFUSED_A_DAY.entries == 500


def test_refused_entries_are_kept_aside_up_to_their_bytes(db, ansgar):
    _throw(db, ansgar, [_bad(number, 30_000) for number in range(100)])
    kept = sum(len(event.raw) + len(event.id) for event in events.set_aside_of(db, ansgar.id))
    assert MOST_REFUSED_A_DAY.size - 31_000 < kept <= MOST_REFUSED_A_DAY.size


def test_there_is_an_end_to_what_is_kept_aside_in_all(db, ansgar):
    for day in range(6):
        first = 1000 * day
        _throw(db, ansgar, [_bad(number) for number in range(first, first + 500)], NOW + timedelta(days=day))
    assert len(events.set_aside_of(db, ansgar.id)) == MOST_REFUSED.entries == 2000


def test_the_same_refused_entry_again_takes_no_room_and_keeps_its_own_answer(db, ansgar):
    for _ in range(8):
        assert set(_throw(db, ansgar, [_bad(number) for number in range(BATCH)])) == {"not_in_range"}
    assert len(events.set_aside_of(db, ansgar.id)) == BATCH


def test_one_phone_takes_no_room_from_another(db, ansgar):
    _throw(db, ansgar, [_bad(number) for number in range(600)])
    assert _throw(db, ansgar, [_bad(1000)], phone="second phone") == ["not_in_range"]


def test_good_entries_are_taken_beside_refused_ones_past_the_bound(db, ansgar):
    _throw(db, ansgar, [_bad(number) for number in range(500)])
    raws = [_bad(600), json.dumps(session(FIRST_DAY, seq=601)).encode()]
    results = take_batch(db, ansgar.id, "phone", raws, NOW)
    assert [(result.status, result.code) for result in results] == [("rejected", "refused_not_kept"), ("stored", "")]


def _day_away(on: date, first: int) -> list[dict]:
    """Return the events of a busy day: three sessions, a report with corrections, and other events of a phone."""
    others = [event("exposure_noted", on, {"what": "sport", "minutes": 60}, seq=first + index) for index in range(40)]
    sessions = [session(on, arms=("right", "left"), seq=first + 40 + index) for index in range(3)]
    return [*others, *sessions, morning(on, arms=("right", "left"), seq=first + 43)]


def test_three_months_offline_are_taken_whole_on_one_day(db, ansgar):
    entries = [each for day in range(MONTHS_AWAY) for each in _day_away(FIRST_DAY + timedelta(days=day), 100 * day + 1)]
    assert len(entries) == 3960
    codes = _throw(db, ansgar, [json.dumps(each).encode() for each in entries])
    assert set(codes) == {""}
    assert events.newest_seq(db, ansgar.id) == len(entries)


@pytest.mark.parametrize(
    ("count", "letters"), [(MOST_TAKEN_A_DAY.entries, 10), (20, MOST_TAKEN_A_DAY.size // 20)], ids=["entries", "bytes"]
)
def test_there_is_an_end_to_what_one_phone_may_send_in_a_day(db, count, letters):
    new = [NewEvent(uuid7(number), "2026-03-02", "kite_flown", 1, "x" * letters, "") for number in range(count)]
    bounds.check_room(db, "phone", new, NOW)
    with pytest.raises(TooMuchError) as refused:
        bounds.check_room(db, "phone", [*new, NewEvent(uuid7(count), "2026-03-02", "kite_flown", 1, "x", "")], NOW)
    assert refused.value.wait == timedelta(hours=14, minutes=30)

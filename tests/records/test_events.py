from tests.cast import NOW
from webapp.records import events
from webapp.records.database import write
from webapp.records.events import NewEvent, RefusedEvent


def _event(number, on_day="2026-03-02", kind="session_finished", hash_="h"):
    return NewEvent(f"id-{number}", on_day, kind, number, f'{{"n":{number}}}', hash_)


def _append(db, client, *new):
    with write(db):
        events.append(db, client, "phone", new, NOW)


def _ids(found):
    return [event.id for event in found]


def test_events_are_numbered_for_each_client_in_the_order_stored(db, ansgar, isaura):
    _append(db, ansgar.id, _event(5), _event(3))
    _append(db, isaura.id, _event(9))
    _append(db, ansgar.id, _event(1))
    assert [(event.seq, event.id) for event in events.of_client(db, ansgar.id)] == [
        (1, "id-5"),
        (2, "id-3"),
        (3, "id-1"),
    ]
    assert [(event.seq, event.id) for event in events.of_client(db, isaura.id)] == [(1, "id-9")]


def test_an_id_that_is_there_already_is_passed_over(db, ansgar):
    _append(db, ansgar.id, _event(1, hash_="first"))
    _append(db, ansgar.id, _event(1, hash_="second"), _event(2))
    assert events.hashes_of(db, ansgar.id, ["id-1", "id-2"]) == {"id-1": "first", "id-2": "h"}
    assert _ids(events.of_client(db, ansgar.id)) == ["id-1", "id-2"]


def test_the_same_id_of_another_client_is_another_event(db, ansgar, isaura):
    _append(db, ansgar.id, _event(1))
    _append(db, isaura.id, _event(1))
    assert events.hashes_of(db, isaura.id, ["id-1"]) == {"id-1": "h"}
    assert len(events.of_client(db, ansgar.id)) == len(events.of_client(db, isaura.id)) == 1


def test_a_cursor_gives_what_came_after_it(db, ansgar):
    _append(db, ansgar.id, *map(_event, range(1, 6)))
    assert _ids(events.of_client(db, ansgar.id, after=2, limit=2)) == ["id-3", "id-4"]
    assert events.newest_seq(db, ansgar.id) == 5


def test_reading_from_a_day_brings_every_correction_along(db, ansgar):
    _append(
        db,
        ansgar.id,
        _event(1, "2026-03-01"),
        _event(2, "2026-03-01", "entry_corrected"),
        _event(3, "2026-03-05"),
    )
    assert _ids(events.since_day(db, ansgar.id, "2026-03-05")) == ["id-2", "id-3"]


def test_an_event_of_a_day_or_before_it_is_late_and_so_is_any_correction_or_routine(db, ansgar):
    _append(db, ansgar.id, _event(1, "2026-03-01"))
    assert not events.is_any_late(db, ansgar.id, 1, "2026-03-03")
    _append(db, ansgar.id, _event(2, "2026-03-04"))
    assert not events.is_any_late(db, ansgar.id, 1, "2026-03-03")
    _append(db, ansgar.id, _event(3, "2026-03-03"))
    assert events.is_any_late(db, ansgar.id, 2, "2026-03-03")
    _append(db, ansgar.id, _event(4, "2026-03-09", "routine_received"))
    assert events.is_any_late(db, ansgar.id, 3, "2026-03-03")
    _append(db, ansgar.id, _event(5, "2026-03-09", "entry_corrected"))
    assert events.is_any_late(db, ansgar.id, 4, "2026-03-03")


def test_the_last_events_of_some_kinds_come_newest_first(db, ansgar):
    _append(db, ansgar.id, _event(1), _event(2, kind="habit_noted"), _event(3, "2026-03-09"), _event(4, "2026-03-04"))
    assert _ids(events.latest_of(db, ansgar.id, ("session_finished",), 2)) == ["id-3", "id-4"]


def test_what_was_refused_is_kept_once(db, ansgar, isaura):
    refused = RefusedEvent("id-1", "h", "{}", "not_in_range", "why")
    for _ in range(2):
        with write(db):
            events.set_aside(db, ansgar.id, "phone", [refused], NOW)
    assert events.set_aside_of(db, ansgar.id) == [refused]
    assert events.set_aside_of(db, isaura.id) == []


def test_kinds_that_come_seldom_are_found_without_reading_the_whole_log(db, ansgar):
    _append(db, ansgar.id, *(_event(number) for number in range(1, 40)), _event(40, kind="course_set"))
    read = []
    db.conn.set_trace_callback(read.append)
    assert _ids(events.latest_of(db, ansgar.id, ("course_set",), -1)) == ["id-40"]
    db.conn.set_trace_callback(None)
    plan = " ".join(row[3] for row in db.execute(f"EXPLAIN QUERY PLAN {read[-1]}").fetchall())
    assert "events_seldom (client=? AND kind=?)" in plan


def test_corrections_come_with_the_entries_that_they_name_and_no_others(db, ansgar):
    fix = NewEvent("id-9", "2026-03-03", "entry_corrected", 9, '{"body": {"replaces": "id-2"}}', "h")
    _append(db, ansgar.id, _event(1), _event(2), _event(3))
    assert events.corrected(db, ansgar.id) == []
    _append(db, ansgar.id, fix)
    assert _ids(events.corrected(db, ansgar.id)) == ["id-9", "id-2"]

"""The result of a fold is the same in whatever order events arrive, and wherever the checkpoint is."""

import json
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests.amount import drawn
from tests.builders import days_of, empty_records, enrol, event, morning, release, session, uuid7
from tests.cast import BOOKBINDER, FIRST_DAY, HEDDA, NOW
from webapp.dosing.release import Return
from webapp.events.kinds import RANGES
from webapp.library.routine import starter
from webapp.records import events, folded, practitioners, routines
from webapp.records.database import write
from webapp.records.events import NewEvent
from webapp.sync.folding import checkpoint
from webapp.sync.folding.anchors import anchors_of
from webapp.sync.folding.fold import accounts_of
from webapp.sync.log.take import content_hash, take_batch

# Hypothesis does not search for a smaller example, since each example needs a new database.
steady = settings(max_examples=drawn(5, 20), phases=(Phase.explicit, Phase.generate))
ARMS = ("right", "left")
RATINGS = st.none() | st.integers(0, 9)
REPORTS = st.lists(st.tuples(RATINGS, RATINGS), min_size=4, max_size=12)


def _day(number):
    return FIRST_DAY + timedelta(days=number)


def _record(db, client, release):
    """Store an event of the practice in a log, with the same id for each twin."""
    told_in_full = NewEvent(
        release["id"], release["on"], release["kind"], release["seq"], json.dumps(release), content_hash(release)
    )
    with write(db):
        events.append(db, client.id, "practice", [told_in_full], NOW)


@st.composite
def releases(draw, reports):
    """Draw releases of both arms on some days; each release covers only some of the sharp entries."""
    ids = [uuid7(number) for number in range(1, 2 * len(reports) + 1)] + [uuid7(904)]
    days = draw(st.lists(st.integers(1, len(reports) + 1), max_size=3))
    known, rungs, shares = st.sampled_from([ids, ids[:4], []]), st.integers(1, 5), st.sampled_from(RANGES)
    return [
        event(
            "hold_released",
            _day(number),
            {
                "arms": {
                    arm: {"rung": draw(rungs), "range": draw(shares), "covers": draw(known), "reason": "", "by": ""}
                    for arm in ARMS
                }
            },
            seq=950 + index,
        )
        for index, number in enumerate(days)
    ]


def _put(db, client, entries, phone="a"):
    for entry in entries:
        if entry["kind"] == "hold_released":
            _record(db, client, entry)
        else:
            _send(db, client, [entry], phone)


def _send(db, client, entries, phone="a"):
    take_batch(db, client.id, phone, [json.dumps(entry).encode() for entry in entries], NOW)


def _twins(path):
    """Make two clients with the same intake and the same two routine versions."""
    db = empty_records(path)
    hedda = practitioners.add(db, HEDDA.name, HEDDA.email, "no password", NOW).id
    twins = [enrol(db, hedda, replace(BOOKBINDER, public_id=name)) for name in ("twin000001", "twin000002")]
    for twin in twins:
        routines.push(
            db,
            twin.id,
            starter("wrist"),
            {**BOOKBINDER.settings, "usual": 1, "start_rungs": {"right": 2}},
            "",
            hedda,
            NOW,
        )
    return db, *twins


def _log(reports):
    """Return a log with every kind of phone event that changes a course: two routines, corrections, a warning sign."""
    last, days = len(reports) - 1, days_of(FIRST_DAY, reports, arms=ARMS)
    # The phone that withdrew the last entry had a clock that was days behind.
    behind = event("entry_corrected", FIRST_DAY, {"replaces": uuid7(len(days)), "body": None}, seq=905)
    return [
        *days,
        behind,
        event("routine_received", _day(2), {"version": 2, "bundle": "b"}, seq=901),
        event("entry_corrected", _day(last), {"replaces": uuid7(1), "body": None}, seq=902),
        event("entry_corrected", _day(1), {"replaces": uuid7(4), "body": session(_day(0), 3)["body"]}, seq=903),
        event("warning_raised", _day(last), {"sign": "numb", "arms": ["left"]}, seq=904),
    ]


def _first():
    return event("routine_received", FIRST_DAY, {"version": 1, "bundle": "b"}, seq=900)


@pytest.mark.drawn
@steady
@given(reports=REPORTS, data=st.data())
def test_the_order_the_pieces_and_the_copies_of_a_log_do_not_matter(tmp_path_factory, reports, data):
    db, whole, pieces = _twins(tmp_path_factory.mktemp("records") / "halfturn.db")
    entries = [_first(), *_log(reports), *data.draw(releases(reports))]
    _put(db, whole, entries)
    shuffled = data.draw(st.permutations(entries + entries[:3]))
    cuts = sorted(data.draw(st.lists(st.integers(0, len(shuffled)), max_size=4)))
    for start, end in zip([0, *cuts], [*cuts, len(shuffled)], strict=True):
        _put(db, pieces, shuffled[start:end], phone="ab"[start % 2])
    for number in (len(reports), 3):
        assert accounts_of(db, whole.id, _day(number)) == accounts_of(db, pieces.id, _day(number))
        assert anchors_of(db, whole.id, _day(number), 2) == anchors_of(db, pieces.id, _day(number), 2)
    db.conn.close()


@pytest.mark.drawn
@steady
@given(reports=REPORTS, data=st.data())
def test_going_on_from_a_checkpoint_is_the_same_as_folding_anew(tmp_path_factory, reports, data):
    db, kept, anew = _twins(tmp_path_factory.mktemp("records") / "halfturn.db")
    days = st.integers(3, len(reports) + 2)
    entries = [*_log(reports), *data.draw(releases(reports))]
    for entry in [_first(), *data.draw(st.permutations(entries))]:
        _put(db, kept, [entry])
        _put(db, anew, [entry])
        on = _day(data.draw(days))
        with write(db):
            db.execute("DELETE FROM folded WHERE client = ?", (anew.id,))
        assert anchors_of(db, kept.id, on, 2) == anchors_of(db, anew.id, on, 2)
    db.conn.close()


@pytest.fixture
def settled(db_path):
    """A client after ten good days; on the tenth day the checkpoint is at the start of the seventh."""
    db, client, _ = _twins(db_path)
    _send(db, client, [_first(), *days_of(FIRST_DAY, [(1, 1)] * 9, arms=ARMS)])
    anchors_of(db, client.id, _day(9), 1)
    assert folded.find(db, client.id).day == _day(6).isoformat()
    return db, client


LATE = {
    "the report of the checkpoint's own morning": lambda: morning(_day(6), 9, seq=77),
    "a session of the day before it": lambda: session(_day(5), 9, seq=77),
    "a routine of a day before it": lambda: event("routine_received", _day(3), {"version": 2}, seq=77),
    "a correction written after it": lambda: event(
        "entry_corrected", _day(9), {"replaces": uuid7(1), "body": session(_day(0), 9)["body"]}, seq=77
    ),
}


@pytest.mark.parametrize("news", LATE)
def test_a_checkpoint_does_not_hide(settled, news):
    db, client = settled
    before = anchors_of(db, client.id, _day(9), 1)
    _send(db, client, [LATE[news]()])
    after = anchors_of(db, client.id, _day(9), 1)
    assert after != before
    with write(db):
        db.execute("DELETE FROM folded")
    assert anchors_of(db, client.id, _day(9), 1) == after


def test_an_ordinary_day_reads_a_few_days_and_not_the_whole_log(settled):
    db, client = settled
    _send(db, client, [session(_day(9), 1, arms=ARMS, seq=77)])
    resumed = checkpoint.resume(db, client.id, _day(9))
    assert resumed.start == _day(7)
    assert min(resumed.course.diary.of_arm("right")) >= _day(3), "what was told from the fourth day on"
    assert len(events.since_day(db, client.id, _day(6).isoformat())) < len(events.of_client(db, client.id))


def test_a_checkpoint_keeps_the_lowest_of_three_mornings_in_sight(db_path):
    db, client, _ = _twins(db_path)
    _send(db, client, [_first(), *days_of(FIRST_DAY, [(1, pain) for pain in (2, 2, 2, 2, 3, 3, 4, 3)], arms=ARMS)])
    first = anchors_of(db, client.id, _day(9), 1)
    assert folded.find(db, client.id).day == _day(6).isoformat()
    assert accounts_of(db, client.id, _day(7))["right"].days[-1].response == "flared", "4 over the 2 of three days back"
    assert {state.ease for state in first["right"].states} == {1, 2}, "one step eased, or one more after a bad day"
    assert anchors_of(db, client.id, _day(9), 1) == first


def test_a_release_written_at_the_desk_is_seen_through_a_checkpoint(settled):
    db, client = settled
    _send(db, client, [session(_day(8), 9, seq=77)])
    assert {state.mode for state in anchors_of(db, client.id, _day(10), 1)["right"].states} == {"held"}
    release(db, client.id, "right", Return(1, 1), _day(9), NOW)
    assert {state.mode for state in anchors_of(db, client.id, _day(10), 1)["right"].states} != {"held"}


def test_a_sharp_report_from_before_a_checkpoint_keeps_a_later_release_from_counting(settled):
    db, client = settled
    _send(db, client, [session(_day(8), 9, seq=77)])
    release(db, client.id, "right", Return(1, 1), _day(9), NOW)
    _send(db, client, [session(_day(1), 9, seq=78)])
    for _ in range(2):
        assert {state.mode for state in anchors_of(db, client.id, _day(10), 1)["right"].states} == {"held"}
        assert folded.find(db, client.id).day == _day(7).isoformat(), "the report lies behind the checkpoint now"

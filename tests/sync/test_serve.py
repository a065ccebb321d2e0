import json
import logging
from datetime import timedelta

import msgspec
import pytest

from tests.builders import days_of, morning, release, session
from tests.cast import FIRST_DAY, NOW
from webapp.dosing.release import Return
from webapp.dosing.responses import RESPONSES
from webapp.library.routine import starter
from webapp.records import cases, devices, epoch, events, routines
from webapp.records.database import write
from webapp.sync.folding.fold import accounts_of
from webapp.sync.phone.serve import PhoneBatch, Speaker, answer_sync


def _day(number):
    return FIRST_DAY + timedelta(days=number)


class Phone:
    """A phone as the server sees it: its epoch, cursor and bundle, and the events that it sends."""

    def __init__(self, db, client, name="Ansgar Tolle"):
        self.db, self.who = db, Speaker(client.id, client.public_id, name, "phone")
        self.epoch, self.cursor, self.hash, self.bundle = None, 0, None, None

    def sync(self, *sent, on=FIRST_DAY):
        raws = [json.dumps(event).encode() for event in sent]
        answer = answer_sync(self.db, self.who, PhoneBatch(on, "en", self.epoch, self.cursor, self.hash, raws), NOW)
        answer = msgspec.json.decode(msgspec.json.encode(answer))
        self.epoch, self.cursor, self.hash = answer["epoch"], answer["cursor"], answer["bundle_hash"]
        self.bundle = answer["bundle"] or self.bundle
        return answer

    def state_after(self, anchor, response):
        """Return the state that the phone picks from an anchor for a response to the day before."""
        row, gap_days, gap_rung = anchor["states"][RESPONSES.index(response)]
        almanac = self.bundle["almanac"]
        shown = {key: almanac[key][row] for key in ("rung", "ease", "mode", "streak", "rest")}
        return {**shown, "gap": (gap_days, gap_rung)}


def _told_by(account):
    state = account.state
    shown = {"rung": state.rung, "ease": state.ease, "mode": state.mode, "streak": state.settled_streak}
    return {**shown, "rest": state.rest_days, "gap": (state.gap_days, state.gap_rung)}


# Each response to a fifth day, after four days with mornings of 3, by: the session's worst rating, or None without a session;
# the next morning's rating, or None without a report; the share done.
ENDINGS = {
    "settled": (1, 2, 1000),
    "partly": (1, 2, 799),
    "unreported": (1, None, 1000),
    "aching": (4, 2, 1000),
    "aching_untold": (4, None, 1000),
    "tender": (1, 3, 1000),
    "tender_over": (1, 4, 1000),
    "flared": (6, 2, 1000),
    "sharp": (8, 2, 1000),
    "sore": (None, 4, 0),
    "flared_idle": (None, 6, 0),
    "missed": (None, 2, 0),
}


def _ending(response):
    worst, pain, share = ENDINGS[response]
    sessions = [] if worst is None else [session(_day(4), worst, share=share, seq=50)]
    return sessions if pain is None else [*sessions, morning(_day(5), pain, seq=51)]


@pytest.fixture
def phone(db, ansgar):
    return Phone(db, ansgar)


def test_the_first_sync_brings_the_bundle_and_a_start_that_only_a_sharp_yesterday_changes(phone):
    answer = phone.sync()
    assert answer["bundle"]["hash"] == answer["bundle_hash"]
    anchor = answer["anchors"]["right"]
    assert (anchor["on"], anchor["mornings"]) == ("2026-03-02", [None, None, None])
    states = {response: phone.state_after(anchor, response) for response in RESPONSES}
    sharp = states.pop("sharp")
    assert all(state == states["missed"] for state in states.values())
    assert [sharp["mode"], states["missed"]["mode"]] == ["held", "training"]
    assert answer["client"] == {"id": "ansgar0001", "name_shown": "Ansgar"}


def test_a_phone_that_has_the_bundle_is_not_sent_it_again(phone):
    phone.sync()
    answer = phone.sync()
    assert answer["bundle"] is None
    assert len(json.dumps(answer)) < 1000


def test_a_client_without_a_routine_has_neither_bundle_nor_anchor(db, hedda):
    case = cases.add(db, hedda.id, "fresh00001", "Fresh Start", "en", {}, NOW)
    answer_to = Phone(db, type("Client", (), {"id": case.id, "public_id": case.public_id})).sync()
    assert (answer_to["bundle"], answer_to["bundle_hash"], answer_to["anchors"]) == (None, None, {})


@pytest.mark.parametrize("response", RESPONSES)
def test_the_state_that_a_phone_looks_up_is_the_one_that_the_server_folds_later(db, phone, ansgar, received, response):
    # Three days later the phone still decides that day by itself: a report may be so late.
    answer = phone.sync(received(), *days_of(FIRST_DAY, [(1, 3)] * 4), on=_day(8))
    assert answer["anchors"]["right"]["on"] == _day(5).isoformat()
    looked_up = phone.state_after(answer["anchors"]["right"], response)
    phone.sync(*_ending(response), on=_day(8))
    account = accounts_of(db, ansgar.id, _day(5))["right"]
    assert account.days[-1].response == response
    assert _told_by(account) == looked_up


def test_anchors_lie_three_days_back_also_where_a_checkpoint_stands_in_for_the_first_days(phone, received):
    phone.sync(received(), *days_of(FIRST_DAY, [(1, 1)] * 12), on=_day(12))
    for number in (13, 14):
        answer = phone.sync(session(_day(number), 1, seq=900 + number), on=_day(number))
        assert answer["anchors"]["right"]["on"] == _day(number - 3).isoformat()


def test_a_phone_is_told_of_a_pushed_routine_as_of_its_own_day(db, phone, hedda, ansgar, received):
    phone.sync(received(), *days_of(FIRST_DAY, [(1, 1)] * 9), on=_day(9))
    lighter = {**routines.latest(db, ansgar.id).settings, "weights_kg": [0, 0.25], "weights": []}
    routines.push(db, ansgar.id, starter("wrist"), lighter, "Lighter for a while.", hedda.id, NOW)
    answer = phone.sync(on=_day(9))
    assert answer["bundle"]["routine"] == {
        "version": 2,
        "title": starter("wrist")["title"],
        "note": "Lighter for a while.",
    }
    looked_up = phone.state_after(answer["anchors"]["right"], "settled")
    phone.sync(received(2, _day(9), seq=901), on=_day(9))
    assert _told_by(accounts_of(db, ansgar.id, _day(9))["right"]) == looked_up


def test_the_bundle_grows_only_when_a_state_is_missing_and_then_stays(db, phone, hedda, ansgar, received):
    phone.sync(received(), *days_of(FIRST_DAY, [(1, 1), (7, 2), (None, 1)]), on=_day(3))
    routines.push(db, ansgar.id, starter("wrist"), routines.latest(db, ansgar.id).settings, "", hedda.id, NOW)
    first = phone.sync(on=_day(3))
    assert first["bundle"] is not None
    assert phone.sync(received(2, _day(3), seq=901), on=_day(3))["bundle"] is None
    assert phone.sync(session(_day(3), 1, seq=60), on=_day(4))["bundle"] is None


def test_a_release_reaches_the_phone_with_a_state_that_trains(db, phone, ansgar, received):
    phone.sync(received(), session(FIRST_DAY, 1, sharp=True, seq=1), on=_day(1))
    held = phone.sync(on=_day(5))["anchors"]["right"]
    assert {phone.state_after(held, response)["mode"] for response in RESPONSES} == {"held"}
    release(db, ansgar.id, "right", Return(2, 1), _day(2), NOW)
    answer = phone.sync(on=_day(5))
    assert [row["event"]["kind"] for row in answer["events"]] == ["hold_released"]
    assert phone.state_after(answer["anchors"]["right"], "settled")["rung"] == 2


def test_an_anchor_leaves_it_to_the_phone_whether_a_release_covers_a_sharp_day_before(db, phone, ansgar, received):
    phone.sync(received(), session(FIRST_DAY, 1, sharp=True, seq=1), on=_day(1))
    release(db, ansgar.id, "right", Return(2, 1), _day(2), NOW)
    anchor = phone.sync(on=_day(5))["anchors"]["right"]
    modes = {response: phone.state_after(anchor, response)["mode"] for response in RESPONSES}
    assert modes == {response: "held" if response == "sharp" else "training" for response in RESPONSES}


def test_a_phone_reads_what_others_wrote_and_not_what_it_has_just_sent(db, ansgar, phone):
    old = Phone(db, ansgar)
    sent = days_of(FIRST_DAY, [(1, 1)] * 3)
    phone.sync()
    assert phone.sync(*sent, on=_day(3))["events"] == []
    assert [row["event"] for row in old.sync(on=_day(3))["events"]] == sent
    old.sync(session(_day(3), 2, seq=80), on=_day(3))
    assert [row["seq"] for row in phone.sync(on=_day(3))["events"]] == [7]
    assert phone.cursor == old.cursor == 7


def test_a_phone_that_is_behind_is_told_of_its_own_events_too_so_that_no_gap_is_left(db, ansgar, phone):
    Phone(db, ansgar).sync(session(FIRST_DAY, 2, seq=80))
    answer = phone.sync(session(FIRST_DAY, 1, seq=81))
    assert [row["seq"] for row in answer["events"]] == [1, 2]


def test_a_long_log_comes_in_pieces(db, ansgar, phone):
    writer = Phone(db, ansgar)
    for start in range(0, 450, 90):
        writer.sync(*[session(FIRST_DAY, 1, seq=number) for number in range(start + 1, start + 91)])
    pieces = [phone.sync() for _ in range(3)]
    assert [(len(piece["events"]), piece["more"]) for piece in pieces] == [(200, True), (200, True), (50, False)]
    assert [row["seq"] for piece in pieces for row in piece["events"]] == list(range(1, 451))


def test_a_new_epoch_has_the_phone_begin_again(db, phone, ansgar):
    phone.sync(session(FIRST_DAY))
    epoch.renew_for(db, ansgar.id)
    answer = phone.sync()
    assert answer["epoch"] == epoch.of_client(db, ansgar.id)
    assert [row["seq"] for row in answer["events"]] == [1]


def test_a_log_that_is_shorter_than_the_phone_remembers_is_taken_for_a_restored_one(phone):
    phone.sync()
    old_epoch, phone.cursor = phone.epoch, 40
    answer = phone.sync(session(FIRST_DAY))
    assert answer["epoch"] != old_epoch
    assert [row["seq"] for row in answer["events"]] == [1]
    assert phone.sync()["epoch"] == answer["epoch"], "and then it stays"


def _joined(db, client):
    with write(db):
        device, _ = devices.join(db, client.id, "a phone", NOW)
    joined = Phone(db, client)
    joined.who = Speaker(client.id, client.public_id, "Ansgar Tolle", device)
    return joined


def test_one_phone_s_proof_that_the_log_went_back_calls_on_every_phone_of_the_client(db, ansgar, caplog):
    old, new = _joined(db, ansgar), _joined(db, ansgar)
    sessions = [session(FIRST_DAY, 1, seq=number) for number in range(1, 6)]
    old.sync(*sessions[:2])
    new.sync()
    epoch_before = new.epoch
    # The old phone has read up to event 4. The records went back to event 2, and now hold 4 events again, but others.
    new.sync(*[session(FIRST_DAY, 2, seq=number) for number in (21, 22)])
    old.cursor = 4
    with caplog.at_level(logging.WARNING):
        answer = old.sync()
    assert "the log of client ansgar0001 went back" in caplog.text
    assert answer["epoch"] != epoch_before
    assert new.sync()["epoch"] == answer["epoch"]
    assert len(answer["events"]) == 4
    old.sync(*sessions)
    assert events.newest_seq(db, ansgar.id) == 7


def test_a_phone_is_never_told_more_than_is_noted_of_it(db, ansgar):
    writer, reader = _joined(db, ansgar), _joined(db, ansgar)
    for number in range(1, 4):
        writer.sync(session(FIRST_DAY, 1, seq=number))
        reader.sync()
        assert reader.cursor == devices.furthest_sent(db, reader.who.device) == number


def test_two_clients_with_the_same_settings_each_have_their_own_bundle(db, phone, mirela):
    answer, other = phone.sync(), Phone(db, mirela, "Mirela Quist").sync()
    assert answer["client"]["id"] != other["client"]["id"]
    assert answer["bundle"]["arms"] == ["right"]
    assert other["bundle"]["arms"] == ["right", "left"]

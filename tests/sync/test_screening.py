"""The screening before the first session, as the server reads it from the log; `test_shared_rules.py` holds the phone to it."""

import json
from datetime import timedelta

import pytest

from tests.builders import event, screened, session, uuid7
from tests.cast import FIRST_DAY, NOW
from webapp.events.kinds import LEVELS
from webapp.records import events
from webapp.sync.case import screening
from webapp.sync.case.hold import Grounds
from webapp.sync.case.screening import ChangedError, screening_of
from webapp.sync.log.take import take_batch

GROUNDS = Grounds("Her doctor agrees.", "Hedda Marrow", ("doctor", FIRST_DAY))


@pytest.fixture
def put(db, ansgar):
    """Stores events of a phone."""
    return lambda *sent: take_batch(db, ansgar.id, "a phone", [json.dumps(each).encode() for each in sent], NOW)


def test_a_new_client_is_asked_and_one_who_has_trained_is_not(db, ansgar, put):
    assert screening_of(db, ansgar.id).waits_for == "screening"
    put(session(FIRST_DAY))
    assert screening_of(db, ansgar.id).waits_for == "nothing"


@pytest.mark.parametrize("reached", LEVELS)
def test_only_the_whole_list_lets_a_client_begin(db, ansgar, put, reached):
    put(screened(FIRST_DAY, reached=reached))
    assert screening_of(db, ansgar.id).waits_for == ("nothing" if reached == LEVELS[-1] else "screening")


def test_a_sign_to_ask_about_waits_for_the_practitioner_and_a_sign_that_holds_does_not(db, ansgar, put):
    put(screened(FIRST_DAY, "chest", reached="emergency"), screened(FIRST_DAY, "heart", "never_heard_of", seq=2))
    found = screening_of(db, ansgar.id)
    assert (found.waits_for, found.waiting) == ("practitioner", ["heart", "never_heard_of"])


def test_a_sign_that_was_taken_back_waits_no_more(db, ansgar, put):
    put(screened(FIRST_DAY, "heart"))
    put(event("entry_corrected", FIRST_DAY, {"replaces": uuid7(1), "body": None}, seq=2))
    assert screening_of(db, ansgar.id).waits_for == "screening"


def test_clearing_lets_the_client_begin_and_stays_in_the_log_for_every_phone(db, ansgar, put):
    put(screened(FIRST_DAY, "heart"))
    screening.clear(db, ansgar.id, screening_of(db, ansgar.id).seal, GROUNDS, FIRST_DAY, now=NOW)
    assert screening_of(db, ansgar.id).waits_for == "nothing"
    last = events.of_client(db, ansgar.id)[-1]
    body = json.loads(last.raw)["body"]
    assert (last.kind, body["signs"], body["seen_by"]["role"]) == ("screening_cleared", ["heart"], "doctor")


def test_what_was_not_read_is_not_cleared(db, ansgar, put):
    put(screened(FIRST_DAY, "heart"))
    seal = screening_of(db, ansgar.id).seal
    put(screened(FIRST_DAY, "diabetes", seq=2))
    with pytest.raises(ChangedError):
        screening.clear(db, ansgar.id, seal, GROUNDS, FIRST_DAY, now=NOW)
    assert screening_of(db, ansgar.id).waits_for == "practitioner"


def test_more_signs_than_one_entry_holds_are_cleared_together(db, ansgar, put):
    put(*(screened(FIRST_DAY, *(f"{part} {n}" for n in range(100)), seq=part) for part in (1, 2)))
    screening.clear(db, ansgar.id, screening_of(db, ansgar.id).seal, GROUNDS, FIRST_DAY, now=NOW)
    assert screening_of(db, ansgar.id).waits_for == "nothing"


def test_a_phone_can_neither_clear_itself_nor_take_a_clearance_back(db, ansgar, put):
    put(screened(FIRST_DAY, "heart"))
    body = {"signs": ["heart"], "reason": "I say so.", "by": "Me"}
    [result] = put(event("screening_cleared", FIRST_DAY, body, seq=2))
    assert result.code == "not_from_a_phone"
    screening.clear(db, ansgar.id, screening_of(db, ansgar.id).seal, GROUNDS, FIRST_DAY, now=NOW)
    own = events.of_client(db, ansgar.id)[-1].id
    put(event("entry_corrected", FIRST_DAY + timedelta(days=1), {"replaces": own, "body": None}, seq=3))
    assert screening_of(db, ansgar.id).waits_for == "nothing"


def test_an_answer_to_an_earlier_list_is_known_as_one(db, ansgar, put):
    put(screened(FIRST_DAY))
    assert screening_of(db, ansgar.id).is_of_this_list
    earlier = {"asked_list": "another", "reached": LEVELS[-1], "signs": []}
    put(event("screening_answered", FIRST_DAY, earlier, seq=2))
    assert not screening_of(db, ansgar.id).is_of_this_list

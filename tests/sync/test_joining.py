from datetime import timedelta

import pytest

from tests.cast import NOW
from tests.practice.conftest import Clock
from webapp.records import devices, invitations
from webapp.sync.limits.tries import Tries
from webapp.sync.phone.joining import NotAdmittedError, PhoneTold, join_by_code, join_by_link, tidied

SOON = NOW + timedelta(minutes=1)
HERE = "192.0.2.7"
WRONG = "BCDFGHJK"


@pytest.fixture
def code(db, ansgar):
    return invitations.make_code(db, ansgar.id, NOW).code


@pytest.fixture
def clock():
    return Clock(NOW)


@pytest.fixture
def tries(clock):
    return Tries(clock)


@pytest.fixture
def wrong(code):
    """Return a code that differs from the right code in its last letter."""
    return code[:-1] + ("B" if code[-1] != "B" else "C")


def _refused(join, *args):
    with pytest.raises(NotAdmittedError) as refused:
        join(*args)
    return refused.value


def test_a_link_joins_a_phone_to_its_client(db, ansgar):
    joined = join_by_link(db, ansgar.token, PhoneTold("a phone"), SOON)
    assert joined.client == ansgar.id
    assert [(phone.id, phone.name) for phone in devices.of_client(db, ansgar.id)] == [(joined.device, "a phone")]


def test_a_link_works_once(db, ansgar):
    join_by_link(db, ansgar.token, PhoneTold(), SOON)
    assert _refused(join_by_link, db, ansgar.token, PhoneTold(), SOON).code == "used"


@pytest.mark.parametrize("token", ["", "short", "x" * 30, "x" * 5000])
def test_a_link_that_was_never_made_is_not_known(db, ansgar, token):
    assert _refused(join_by_link, db, token, PhoneTold(), SOON).code == "unknown_link"


def test_half_of_a_link_opens_nothing(db, ansgar):
    assert _refused(join_by_link, db, ansgar.token[:-1], PhoneTold(), SOON).code == "unknown_link"


def test_a_link_is_over_after_its_days(db, ansgar):
    assert _refused(join_by_link, db, ansgar.token, PhoneTold(), NOW + timedelta(days=14)).code == "over"


@pytest.mark.parametrize("hand", ["{lower}", "{spaced}", "  {plain}\n", "{joined}"])
def test_a_code_may_be_typed_in_any_hand(db, tries, ansgar, code, hand):
    joined = code.replace("-", "")
    typed = hand.format(plain=code, lower=code.lower(), spaced=" ".join(code), joined=joined)
    assert join_by_code(db, tries, typed, PhoneTold(), HERE, SOON).client == ansgar.id


def test_a_code_works_once_and_for_ten_minutes(db, tries, ansgar, code):
    assert _refused(join_by_code, db, tries, code, PhoneTold(), HERE, NOW + timedelta(minutes=10)).code == "over"
    join_by_code(db, tries, code, PhoneTold(), HERE, SOON)
    assert _refused(join_by_code, db, tries, code, PhoneTold(), HERE, SOON).code == "used"


def test_letters_that_no_code_has_are_no_code():
    assert tidied("bcdf-ghjk") == "BCDFGHJK"
    assert tidied("BCDF-GHJ1") == ""


def test_a_code_is_not_shut_by_strangers_who_guess_at_it(db, tries, ansgar, code, wrong):
    for number in range(30):
        assert (
            _refused(join_by_code, db, tries, wrong, PhoneTold(), f"198.51.100.{number}", SOON).code == "unknown_code"
        )
    assert join_by_code(db, tries, code, PhoneTold(), HERE, SOON).client == ansgar.id


def test_wrong_codes_shut_their_own_network_for_an_hour_and_no_other(db, tries, clock, ansgar, code):
    for _ in range(20):
        assert _refused(join_by_code, db, tries, WRONG, PhoneTold(), HERE, SOON).code == "unknown_code"
    clock.pass_by(minutes=9)
    refused = _refused(join_by_code, db, tries, code, PhoneTold(), HERE, SOON)
    assert (refused.code, refused.wait) == ("too_many_tries", timedelta(minutes=51))
    assert join_by_code(db, tries, code, PhoneTold(), "198.51.100.9", SOON).client == ansgar.id
    clock.pass_by(minutes=51)
    assert _refused(join_by_code, db, tries, WRONG, PhoneTold(), HERE, SOON).code == "unknown_code"


def test_a_whole_class_joins_behind_one_address(db, tries, ansgar):
    for _ in range(21):
        fresh = invitations.make_code(db, ansgar.id, NOW).code
        assert join_by_code(db, tries, fresh, PhoneTold(), HERE, SOON).client == ansgar.id

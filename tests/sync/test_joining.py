from datetime import timedelta

import pytest

from tests.cast import NOW
from webapp.records import devices, invitations
from webapp.sync.joining import NotAdmittedError, join_by_code, join_by_link, tidied

SOON = NOW + timedelta(minutes=1)
HERE = "192.0.2.7"
WRONG = "BCDFGHJK"


@pytest.fixture
def code(db, ansgar):
    return invitations.make_code(db, ansgar.id, NOW).code


@pytest.fixture
def wrong(code):
    """A code that differs from the right one in its last letter."""
    return code[:-1] + ("B" if code[-1] != "B" else "C")


def _refused(join, *args):
    with pytest.raises(NotAdmittedError) as refused:
        join(*args)
    return refused.value


def test_a_link_joins_a_phone_to_its_client(db, ansgar):
    joined = join_by_link(db, ansgar.token, "a phone", SOON)
    assert joined.client == ansgar.id
    assert [(one.id, one.name) for one in devices.of_client(db, ansgar.id)] == [(joined.device, "a phone")]


def test_a_link_works_once(db, ansgar):
    join_by_link(db, ansgar.token, "", SOON)
    assert _refused(join_by_link, db, ansgar.token, "", SOON).code == "used"


@pytest.mark.parametrize("token", ["", "short", "x" * 30, "x" * 5000])
def test_a_link_that_was_never_made_is_not_known(db, ansgar, token):
    assert _refused(join_by_link, db, token, "", SOON).code == "unknown_link"


def test_half_of_a_link_opens_nothing(db, ansgar):
    assert _refused(join_by_link, db, ansgar.token[:-1], "", SOON).code == "unknown_link"


def test_a_link_is_over_after_its_days(db, ansgar):
    assert _refused(join_by_link, db, ansgar.token, "", NOW + timedelta(days=14)).code == "over"


@pytest.mark.parametrize("hand", ["{lower}", "{spaced}", "  {plain}\n", "{joined}"])
def test_a_code_may_be_typed_in_any_hand(db, ansgar, code, hand):
    joined = code.replace("-", "")
    typed = hand.format(plain=code, lower=code.lower(), spaced=" ".join(code), joined=joined)
    assert join_by_code(db, typed, "", HERE, SOON).client == ansgar.id


def test_a_code_works_once_and_for_ten_minutes(db, ansgar, code):
    assert _refused(join_by_code, db, code, "", HERE, NOW + timedelta(minutes=10)).code == "over"
    join_by_code(db, code, "", HERE, SOON)
    assert _refused(join_by_code, db, code, "", HERE, SOON).code == "used"


def test_letters_that_no_code_has_are_no_code():
    assert tidied("bcdf-ghjk") == "BCDFGHJK"
    assert tidied("BCDF-GHJ1") == ""


def test_a_code_stands_five_tries_and_then_not_even_the_right_one(db, code, wrong):
    for number in range(5):
        assert _refused(join_by_code, db, wrong, "", f"place {number}", SOON).code == "unknown_code"
    assert _refused(join_by_code, db, code, "", "another place", SOON).code == "over"


def test_five_failures_from_one_place_close_it_for_an_hour(db, ansgar, code):
    for minute in range(5):
        assert _refused(join_by_code, db, WRONG, "", HERE, NOW + timedelta(minutes=minute)).code == "unknown_code"
    at = NOW + timedelta(minutes=9)
    refused = _refused(join_by_code, db, code, "", HERE, at)
    assert (refused.code, refused.wait) == ("too_many_tries", timedelta(minutes=51))
    assert join_by_code(db, code, "", "elsewhere", at).client == ansgar.id
    assert _refused(join_by_code, db, WRONG, "", HERE, at + refused.wait).code == "unknown_code"


def test_guessing_from_everywhere_is_stopped_for_all(db, code):
    for number in range(200):
        _refused(join_by_code, db, WRONG, "", f"place {number}", SOON)
    assert _refused(join_by_code, db, code, "", "a fresh place", SOON).code == "too_many_tries"


def test_right_codes_are_not_counted_as_failures(db, ansgar):
    for _ in range(7):
        fresh = invitations.make_code(db, ansgar.id, NOW).code
        assert join_by_code(db, fresh, "", HERE, SOON).client == ansgar.id

"""The odds of guessing a short code, computed from the number of codes and the tries that each network has."""

from datetime import timedelta

import pytest
from argon2 import extract_parameters

from tests.cast import NOW
from tests.practice.conftest import Clock
from webapp.records import invitations
from webapp.records.invitations import CODE_LENGTH, CODE_LETTERS, CODE_SELECTOR_LENGTH
from webapp.sync.limits.tries import Guard, Tries
from webapp.sync.phone.joining import WRONG_CODES

ALL_CODES = len(CODE_LETTERS) ** CODE_LENGTH
ADDRESSES = 10_000
# A customer with a /48 prefix has this many /64 networks.
WHOLE_48 = 2 ** (64 - 48)


def _tries_in_a_day() -> int:
    """Return the number of tries in a day of a network that tries all the time."""
    clock, count = Clock(NOW), 0
    tries, guard = Tries(clock), Guard(WRONG_CODES, ("code", "192.0.2.7"))
    while clock.at < NOW + timedelta(days=1):
        while not tries.wait(guard):
            tries.fail(guard)
            count += 1
        clock.pass_by(minutes=1)
    return count


def test_one_network_may_be_wrong_sixty_times_in_a_day():
    assert _tries_in_a_day() == 60


@pytest.mark.parametrize(
    ("networks", "live", "one_in"), [(ADDRESSES, 1, 42_000), (ADDRESSES, 10, 4_200), (WHOLE_48, 10, 650)]
)
def test_a_day_of_guessing_from_many_networks_finds_no_code_but_once_in(networks, live, one_in):
    """A guess matches at most one live code, and all codes are equally likely."""
    most = networks * _tries_in_a_day() * live / ALL_CODES
    assert most <= 1 / one_in


def test_a_guess_takes_the_same_work_whether_or_not_a_code_begins_like_it(db, ansgar):
    code = invitations.make_code(db, ansgar.id, NOW).code.replace("-", "")
    found = invitations.find(db, code[:CODE_SELECTOR_LENGTH])
    assert extract_parameters(invitations._NO_CODE) == extract_parameters(found.secret_hash)
    assert not invitations.is_secret_of_code(None, code[CODE_SELECTOR_LENGTH:])
    assert not invitations.is_secret_of_code(None, "NO CODE")

"""Guessing a password: guesses of strangers make strangers wait, but never the owner at a known browser."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.cast import HEDDA, JONAS
from tests.practice.conftest import Clock
from webapp.practice.door.guessing import guards_of
from webapp.sync.limits.tries import Tries, network_of

WRONG = "not this one either"
HOST = "127.0.0.1"
FEW_MINUTES = timedelta(minutes=5)


def _from(visitor, address):
    visitor.client.environ_base["REMOTE_ADDR"] = address
    return visitor


def _guess_from_everywhere(site, email=HEDDA.email, networks=60):
    """Fail one sign-in from each of `networks` networks."""
    tries = site.app.extensions["halfturn"].tries
    for number in range(networks):
        tries.fail(*guards_of(tries, email, "", f"198.51.100.{number}").counted)


def _known(site):
    """Return a browser with which Hedda has signed in and out."""
    visitor = site.visitor()
    assert visitor.sign_in(HEDDA.email, HEDDA.password).status_code == 303
    visitor.open("/practice")
    visitor.fill("/sign-out", {}, post_to="/practice/sign-out")
    return visitor


def test_the_right_password_at_a_known_browser_works_however_many_strangers_guess(site):
    visitor = _known(site)
    _guess_from_everywhere(site)
    assert visitor.sign_in(HEDDA.email, HEDDA.password).status_code == 303


def test_it_works_even_beside_a_guesser_in_the_same_network(site):
    visitor = _known(site)
    tries = site.app.extensions["halfturn"].tries
    for _ in range(100):
        tries.fail(*guards_of(tries, HEDDA.email, "", HOST).counted)
    assert site.visitor().sign_in(HEDDA.email, HEDDA.password).status_code == 429
    assert visitor.sign_in(HEDDA.email, HEDDA.password).status_code == 303


def test_at_a_new_browser_the_right_password_works_at_once_while_strangers_guess_elsewhere(site, visitor):
    _guess_from_everywhere(site)
    assert _from(visitor, "203.0.113.9").sign_in(HEDDA.email, HEDDA.password).status_code == 303


def test_a_slip_at_a_new_browser_while_strangers_guess_costs_a_few_minutes_and_says_so(site, visitor):
    _guess_from_everywhere(site)
    owner = _from(visitor, "203.0.113.9")
    assert owner.sign_in(HEDDA.email, WRONG).status_code == 403
    assert owner.sign_in(HEDDA.email, HEDDA.password).status_code == 429
    assert "Wait 5 minutes, then sign in; nothing is locked for good." in owner.text
    assert owner.form()["email"] == HEDDA.email
    site.clock.pass_by(minutes=5)
    assert owner.sign_in(HEDDA.email, HEDDA.password).status_code == 303


def test_other_people_do_not_wait_for_the_one_who_is_guessed_at(site, visitor):
    _guess_from_everywhere(site)
    stranger = _from(visitor, "203.0.113.9")
    stranger.sign_in(JONAS.email, WRONG)
    assert stranger.sign_in(JONAS.email, JONAS.password).status_code == 303


def test_a_guesser_is_shut_out_after_ten_and_the_next_network_is_not(site, visitor):
    tries = site.app.extensions["halfturn"].tries
    for _ in range(9):
        tries.fail(*guards_of(tries, HEDDA.email, "", "203.0.113.9").counted)
    guesser = _from(visitor, "203.0.113.9")
    assert guesser.sign_in(HEDDA.email, WRONG).status_code == 403
    assert guesser.sign_in(HEDDA.email, HEDDA.password).status_code == 429
    assert _from(site.visitor(), "203.0.113.10").sign_in(HEDDA.email, HEDDA.password).status_code == 303
    site.clock.pass_by(minutes=15)
    assert guesser.sign_in(HEDDA.email, HEDDA.password).status_code == 303


def test_a_known_browser_that_guesses_is_a_stranger_after_ten():
    tries = Tries(Clock(datetime(2026, 3, 2, 9, tzinfo=UTC)))
    for _ in range(10):
        guards = guards_of(tries, HEDDA.email, "hers", HOST)
        assert len(guards.passed) == 1
        tries.fail(*guards.counted)
    strange = guards_of(tries, HEDDA.email, "hers", HOST)
    assert len(strange.passed) == 2
    assert not tries.wait(*strange.passed), "what the browser did is not held against its network"


def test_a_browser_is_known_to_whoever_signed_in_and_to_nobody_else(site):
    visitor = _known(site)
    _guess_from_everywhere(site, JONAS.email)
    assert visitor.sign_in(JONAS.email, WRONG).status_code == 403
    assert visitor.sign_in(JONAS.email, JONAS.password).status_code == 429


def test_a_cookie_that_was_not_signed_here_makes_no_browser_known(site):
    visitor = _known(site)
    cookie = visitor.client.get_cookie("halfturn_known", HOST)
    payload = cookie.value.partition(".")[0]
    visitor.client.set_cookie("halfturn_known", f"{payload}.bm90IG91cnM", domain=HOST)
    _guess_from_everywhere(site)
    assert visitor.sign_in(HEDDA.email, WRONG).status_code == 403
    assert visitor.sign_in(HEDDA.email, HEDDA.password).status_code == 429


def test_the_cookie_of_a_known_browser_is_out_of_reach_of_scripts_and_opens_nothing(site, visitor):
    answer = visitor.sign_in(HEDDA.email, HEDDA.password)
    cookie = next(header for header in answer.headers.getlist("Set-Cookie") if header.startswith("halfturn_known="))
    assert {"HttpOnly", "SameSite=Lax", "Path=/"} <= set(cookie.split("; "))
    other = site.visitor()
    other.client.set_cookie("halfturn_known", visitor.client.get_cookie("halfturn_known", HOST).value, domain=HOST)
    assert other.open("/practice").status_code == 303


def test_guesses_from_one_network_at_many_addresses_end_at_sixty():
    tries = Tries(Clock(datetime(2026, 3, 2, 9, tzinfo=UTC)))
    for number in range(60):
        guards = guards_of(tries, f"{number}@nowhere.example", "", HOST)
        assert not tries.wait(*guards.passed)
        tries.fail(*guards.counted)
    assert tries.wait(*guards_of(tries, "one.more@nowhere.example", "", HOST).passed) == timedelta(minutes=15)


def test_no_wait_is_longer_than_told_and_an_attack_of_a_day_lets_each_network_try_a_few_hundred_times():
    clock = Clock(datetime(2026, 3, 2, 9, tzinfo=UTC))
    tries, passed = Tries(clock), 0
    tries.fail(*[guard for _ in range(60) for guard in guards_of(tries, HEDDA.email, "", "198.51.100.1").counted])
    for _ in range(24 * 60):
        guards = guards_of(tries, HEDDA.email, "", HOST)
        assert tries.wait(*guards.passed) <= timedelta(minutes=15)
        if not tries.wait(*guards.passed):
            passed += 1
            tries.fail(*guards.counted)
        clock.pass_by(minutes=1)
        tries.fail(*[guards.counted[-1]] * 60)
    assert passed <= 24 * (60 / 5 + 1), "once in five minutes, and once more where an hour's count begins anew"


@pytest.mark.parametrize(
    ("address", "network"),
    [
        ("192.0.2.7", "192.0.2.7"),
        ("::ffff:192.0.2.7", "192.0.2.7"),
        ("2001:db8:1:2:aaaa::1", "2001:db8:1:2::/64"),
        ("2001:db8:1:2:bbbb::9", "2001:db8:1:2::/64"),
        ("2001:db8:1:3::1", "2001:db8:1:3::/64"),
        ("fe80::1%eth0", "fe80::/64"),
        ("nowhere", "nowhere"),
    ],
)
def test_a_guesser_is_known_by_an_ipv4_address_or_by_the_first_half_of_an_ipv6_address(address, network):
    assert network_of(address) == network


def test_counters_whose_time_is_over_are_dropped():
    clock = Clock(datetime(2026, 3, 2, 9, tzinfo=UTC))
    tries = Tries(clock)
    for _ in range(5):
        for number in range(1000):
            tries.fail(*guards_of(tries, f"{number}", "", f"{number}").counted)
        clock.pass_by(hours=2)
    assert len(tries._limiter.storage._counts) < 8 * 1000


def test_signing_in_again_ends_what_the_browser_had_and_leaves_other_browsers_alone(site, visitor):
    elsewhere = site.visitor()
    elsewhere.sign_in(HEDDA.email, HEDDA.password)
    visitor.sign_in(HEDDA.email, HEDDA.password)
    first = visitor.client.get_cookie("halfturn_practice", HOST).value
    visitor.open("/practice/sign-in")
    token = visitor.open("/practice/add") and visitor.form("")["csrf_token"]
    visitor.send("/practice/sign-in", {"csrf_token": token, "email": HEDDA.email, "password": HEDDA.password})
    assert visitor.client.get_cookie("halfturn_practice", HOST).value != first
    thief = site.visitor()
    thief.client.set_cookie("halfturn_practice", first, domain=HOST)
    assert thief.open("/practice").status_code == 303
    assert visitor.open("/practice").status_code == 200
    assert elsewhere.open("/practice").status_code == 200

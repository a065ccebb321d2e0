"""Signing in and out; and that a stranger sees no page."""

import re

import pytest

from tests.cast import HEDDA
from webapp.practice.door.page import OPEN_TO_ALL

HOST = "127.0.0.1"
PAGES = ("/practice", "/practice/add", "/practice/cases/ansgar0001", "/practice/cases/ansgar0001/routine")


def test_the_right_password_opens_the_caseload_with_a_cookie_out_of_reach_of_scripts(visitor):
    answer = visitor.sign_in(HEDDA.email, HEDDA.password)
    assert answer.status_code == 303
    assert answer.headers["Location"].endswith("/practice")
    cookie = next(header for header in answer.headers.getlist("Set-Cookie") if header.startswith("halfturn_practice="))
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert visitor.open("/practice").status_code == 200
    assert "Ansgar Tolle" in visitor.text


def test_the_address_may_be_typed_in_capitals(visitor):
    assert visitor.sign_in(HEDDA.email.upper(), HEDDA.password).status_code == 303


@pytest.mark.parametrize(
    ("email", "password"), [(HEDDA.email, "seven brass bells at dusk"), ("nobody@nowhere.example", HEDDA.password)]
)
def test_a_wrong_password_and_an_unknown_address_are_answered_alike(visitor, email, password):
    assert visitor.sign_in(email, password).status_code == 403
    assert "do not belong together" in visitor.text
    assert not any("halfturn_practice=" in header for header in visitor.page.headers.getlist("Set-Cookie"))
    assert visitor.form()["email"] == email
    assert password not in visitor.page.text


def test_an_empty_form_says_what_is_missing(visitor):
    assert visitor.sign_in("", "").status_code == 400
    assert "E-mail address: this is needed" in visitor.text
    assert "Password: this is needed" in visitor.text


@pytest.mark.parametrize("path", PAGES)
def test_whoever_is_not_signed_in_is_sent_to_the_door_and_sees_nothing(visitor, path):
    answer = visitor.open(path)
    assert answer.status_code == 303
    assert answer.headers["Location"].startswith("/practice/sign-in")
    assert "Ansgar" not in answer.text


def test_every_page_but_the_door_asks_who_is_there(site, visitor):
    rules = [rule for rule in site.app.url_map.iter_rules() if rule.endpoint.startswith("practice.")]
    assert len(rules) > 8
    for rule in rules:
        if rule.endpoint not in OPEN_TO_ALL:
            # The rule gets a number where it needs a number; otherwise every address would be a 404, and the test would prove nothing.
            path = re.sub(r"<int:\w+>", "1", rule.rule).replace("<public_id>", "ansgar0001").replace("<device>", "any")
            answer = visitor.send(path, {}) if "POST" in rule.methods else visitor.open(path)
            assert answer.status_code == 303, rule
            assert "/practice/sign-in" in answer.headers["Location"], rule


def test_signing_in_leads_on_to_the_page_that_was_asked_for(visitor):
    visitor.open("/practice/cases/ansgar0001", follow=True)
    assert visitor.form()["onward"] == "/practice/cases/ansgar0001"
    answer = visitor.sign_in(HEDDA.email, HEDDA.password, "/practice/cases/ansgar0001")
    assert answer.headers["Location"].endswith("/practice/cases/ansgar0001")


@pytest.mark.parametrize(
    "onward", ["https://elsewhere.example/practice", "//elsewhere.example", "/api/sync", "\\practice"]
)
def test_signing_in_never_leads_to_another_site(visitor, onward):
    answer = visitor.sign_in(HEDDA.email, HEDDA.password, onward)
    assert answer.headers["Location"].endswith("/practice")
    assert "elsewhere" not in answer.headers["Location"]


def test_signing_out_ends_the_sign_in_and_not_only_the_cookie(site, hedda):
    token = hedda.client.get_cookie("halfturn_practice", HOST).value
    hedda.open("/practice")
    hedda.fill("/sign-out", {}, post_to="/practice/sign-out")
    assert "You are signed out" in hedda.text
    other = site.visitor()
    other.client.set_cookie("halfturn_practice", token, domain=HOST)
    assert other.open("/practice").status_code == 303


def test_a_sign_in_lapses_after_twelve_hours_without_use(site, hedda):
    site.clock.pass_by(hours=11)
    assert hedda.open("/practice").status_code == 200
    site.clock.pass_by(hours=11)
    assert hedda.open("/practice").status_code == 200
    site.clock.pass_by(hours=12)
    assert hedda.open("/practice").status_code == 303


def test_a_sign_in_lapses_after_seven_days_however_much_it_is_used(site, hedda):
    for _ in range(15):
        site.clock.pass_by(hours=11)
        assert hedda.open("/practice").status_code == 200
    site.clock.pass_by(hours=4)
    assert hedda.open("/practice").status_code == 303


def test_no_page_about_a_person_is_kept_by_a_cache(hedda):
    for path in PAGES:
        assert hedda.open(path).headers["Cache-Control"] == "no-store"

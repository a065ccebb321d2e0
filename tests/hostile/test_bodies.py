"""Whatever a phone sends, the answer has a code and a sentence, the program never fails, and every page still opens."""

import random

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY, HEDDA, ZONE
from tests.hostile.forms import rules_of
from tests.hostile.texts import json_body
from tests.practice.visitor import HEADERS

PIECES, IN_EACH = 25, 4000
"""A hundred thousand bodies. No test may take minutes, on a busy machine either; and each begins with a bundle to make."""
SELDOM = {"/api/code": 0.02}
"""Addresses that do the same costly work whatever the body is, with their share: a code's hash takes a tenth of a second."""
SEED = 20260302
JSON = "application/json"
EVENTS = [
    *days_of(FIRST_DAY, [(1, 1), (2, 3)]),
    event("warning_raised", FIRST_DAY, {"sign": "numb_fingers", "arms": ["right"]}, seq=50),
    event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=51),
    event("exposure_noted", FIRST_DAY, {"what": "sport", "minutes": 120}, seq=52),
    event("note_read", FIRST_DAY, {"version": 1}, seq=53),
]
SYNC = {
    "format": 1, "client": "ansgar0001", "device": "d", "epoch": None, "cursor": 0, "on": "2026-03-04", "zone": ZONE,
    "sent_at": "2026-03-04T09:30:00.000Z", "locale": "en", "bundle": None, "events": EVENTS,
}  # fmt: skip
JOIN = {"token": "n" * 30, "code": "BCDF-GHJK", "device_name": "a phone"}


@pytest.fixture
def phone(site):
    """A joined phone of the founder."""
    browser = site.app.test_client()
    assert browser.post("/api/join", json={"token": site.founder.token}, headers=HEADERS).status_code == 200
    # What is written here may be lost when the power fails; so nobody waits for the disk.
    site.app.extensions["halfturn"].db().execute("PRAGMA synchronous = OFF")
    return browser


def _throw(site, phone, dice, rounds):
    """Send malformed bodies to every address of the phone that takes one; count the answers by status."""
    paths = [
        rule.rule for rule in rules_of(site.app, "POST") if rule.rule.startswith("/api/") and "leave" not in rule.rule
    ]
    assert {"/api/join", "/api/sync"} <= set(paths)
    weights = [SELDOM.get(path, 1) for path in paths]
    seen, records = {}, site.app.extensions["halfturn"].db()
    for number in range(rounds):
        (path,) = dice.choices(paths, weights)
        body = json_body(SYNC if path == "/api/sync" else JOIN, dice)
        kind = (
            JSON if dice.random() < 0.95 else dice.choice(("", "text/plain", "application/json; charset=utf-16", "{"))
        )
        environ = {"REMOTE_ADDR": f"10.{number >> 16 & 255}.{number >> 8 & 255}.{number & 255}"}
        site.clock.pass_by(minutes=1)
        before = records.conn.total_changes
        answer = phone.post(path, data=body, headers={**HEADERS, "Content-Type": kind}, environ_base=environ)
        assert answer.status_code < 500, (number, path, body[:2000])
        if answer.status_code >= 400:
            assert answer.json["error"]["code"], (number, path)
            assert answer.json["error"]["message"], (number, path)
            assert records.conn.total_changes == before, (number, path, "refused, and yet something was written")
        seen[answer.status_code] = seen.get(answer.status_code, 0) + 1
    return seen


def _see_that_pages_open(site):
    """Check that every page about the client still opens with the events that were stored."""
    hedda = site.visitor()
    hedda.sign_in(HEDDA.email, HEDDA.password)
    for path in ("", "/cases/ansgar0001", "/cases/ansgar0001/account", "/cases/ansgar0001/routine"):
        assert hedda.open(f"/practice{path}").status_code == 200, path


def test_no_malformed_body_is_a_fault(site, phone):
    seen = _throw(site, phone, random.Random(SEED), 300)
    assert seen[200] > 10, "some bodies get as far as the log"
    assert seen[400] > 100
    _see_that_pages_open(site)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(SEED, SEED + PIECES))
def test_no_malformed_body_of_many_thousands_is_a_fault(site, phone, counted, seed):
    seen = _throw(site, phone, random.Random(seed), IN_EACH)
    _see_that_pages_open(site)
    counted(f"malformed bodies, seed {seed}: {dict(sorted(seen.items()))}")

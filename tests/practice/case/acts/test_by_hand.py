"""Easing an arm one step and starting it over: a new version that says so, once, and only where the arm stands as shown."""

from datetime import date

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist
from webapp.records import routines
from webapp.sync.folding.fold import accounts_of

NOTE = "Match week: smaller for a few days."
TODAY = date(2026, 3, 9)


@pytest.fixture
def path(site):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)] * 7))
    return f"/practice/cases/{site.founder.public_id}"


def _entries(hedda, path, act="ease", **changes):
    hedda.open(path)
    return hedda.form(f"/by-hand/{act}").to_dict() | {f"{act}-right-by_hand_note": NOTE} | changes


def _send(hedda, path, act="ease", **changes):
    return hedda.send(f"{path}/by-hand/{act}", _entries(hedda, path, act, **changes), follow=True)


def _versions(site):
    return routines.of_client(site.db, site.founder.id)


def _received(site):
    site.receive(site.founder, [event("routine_received", TODAY, {"version": 2, "bundle": ""}, seq=950)])
    return accounts_of(site.db, site.founder.id, TODAY)["right"].state


def test_the_page_shows_before_and_after_and_what_the_client_reads(hedda, path):
    hedda.open(path)
    page = hedda.page.text
    form = page[page.index("/by-hand/ease") :]
    assert "The work of a day falls by" in form
    assert "three quarters" in form
    assert "The client reads it on the day page" in form


def test_easing_pushes_a_version_with_the_reason_as_its_note(site, hedda, path):
    before = accounts_of(site.db, site.founder.id, TODAY)["right"].state
    assert _send(hedda, path).status_code == 200
    newest = _versions(site)[0]
    assert (newest.version, newest.note, newest.settings["eases"]) == (2, NOTE, {"right": 1})
    after = _received(site)
    assert (after.rung, after.ease) == (before.rung, 1)


def test_starting_over_goes_to_the_bottom(site, hedda, path):
    assert _send(hedda, path, "start_over").status_code == 200
    assert _received(site).rung == 1


def test_the_same_form_twice_pushes_once_and_says_that_a_version_is_on_its_way(site, hedda, path):
    entries = _entries(hedda, path)
    for _ in range(2):
        hedda.send(f"{path}/by-hand/ease", entries, follow=True)
    assert len(_versions(site)) == 2
    assert "Version 2 is on its way." in hedda.text
    assert "Nothing was pushed" not in hedda.text
    assert "/by-hand/ease" not in hedda.page.text


def test_an_arm_that_moved_since_the_page_is_not_eased(site, hedda, path):
    entries = _entries(hedda, path)
    site.clock.pass_by(hours=1)
    entries["ease-right-by_hand_seen"] = "1-1-1-training"
    assert hedda.send(f"{path}/by-hand/ease", entries, follow=True).status_code == 409
    assert "Nothing was pushed: new entries of the client change what this version does." in hedda.text
    assert hedda.form("/by-hand/ease")["ease-right-by_hand_note"] == NOTE
    assert len(_versions(site)) == 1
    assert hedda.fill("/by-hand/ease", {}, post_to=f"{path}/by-hand/ease").status_code == 200
    assert len(_versions(site)) == 2


def test_without_a_reason_nothing_is_pushed_and_the_form_stays_open(site, hedda, path):
    assert _send(hedda, path, **{"ease-right-by_hand_note": " "}).status_code == 400
    assert "Why: the client reads it: this is needed" in hedda.text
    assert len(_versions(site)) == 1


def test_a_held_arm_offers_neither(site, hedda):
    hold_cellist(site)
    hedda.open(f"/practice/cases/{site.cellist.public_id}")
    assert "/by-hand/" not in hedda.page.text


@pytest.mark.parametrize(("act", "status"), [("widen", 404), ("ease", 400)])
def test_half_a_request_does_nothing(site, hedda, path, act, status):
    hedda.open(path)
    token = {"csrf_token": hedda.form("/by-hand/ease").get("ease-right-csrf_token")}
    assert hedda.send(f"{path}/by-hand/{act}", token).status_code == status
    assert len(_versions(site)) == 1

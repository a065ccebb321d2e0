"""Finishing on the case page and in the caseload: training, maintenance on some days of a week, or the end."""

import json
from datetime import date
from hashlib import sha256

import pytest

from tests.builders import days_of, event
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist
from webapp.records import events, practitioners

TODAY = date(2026, 3, 9)
ENTRIES = {
    "finish-course": "maintenance",
    "finish-days_a_week": "2",
    "finish-course_from": "2026-03-09",
    "finish-course_reason": "The bow is yours again. Keep it with two days a week.",
}
END = {"finish-course": "ended", "finish-days_a_week": ""}


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.cellist.public_id}"


@pytest.fixture
def trained(site):
    """The cellist, who has trained for two days and was away for six."""
    site.begin(site.cellist, days_of(FIRST_DAY, [(1, 1), (2, 1)], arms=("left",)))


def _entries(hedda, path, **changes):
    hedda.open(path)
    return hedda.form("/course").to_dict() | ENTRIES | changes


def _send(hedda, path, **changes):
    return hedda.send(f"{path}/course", _entries(hedda, path, **changes), follow=True)


def _said(site):
    written = events.latest_of(site.db, site.cellist.id, ["course_set"], 9)
    return [(each.on_day, json.loads(each.raw)["body"]) for each in written]


def _row(hedda):
    hedda.open("/practice")
    return next(part for part in hedda.page.text.split('<li class="case-line') if "Isaura" in part)


def _later(site, hedda, days):
    """Let days go by, and sign in anew."""
    site.clock.pass_by(days=days)
    token = f"signed in again on {site.clock().isoformat()}"
    digest = sha256(token.encode()).hexdigest()
    practitioners.begin_sign_in(site.db, site.hedda.id, digest, site.clock(), site.clock())
    hedda.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")


def test_maintenance_is_an_entry_of_the_log_and_stands_on_case_account_and_caseload(site, hedda, path, trained):
    assert "No session for" in _row(hedda)
    assert _send(hedda, path).status_code == 200
    assert "It is set and counts from Mon 9 Mar 2026." in hedda.text
    assert "Maintenance, 2 days a week" in hedda.text
    body = {"to": "maintenance", "days_a_week": 2, "reason": ENTRIES["finish-course_reason"], "by": site.hedda.name}
    assert _said(site) == [("2026-03-09", body)]
    hedda.open(f"{path}/account")
    assert "The bow is yours again." in hedda.text
    row = _row(hedda)
    assert "Maintenance, 2 days a week" in row
    assert "No session for" not in row


def test_the_day_on_which_to_be_seen_again_goes_with_the_end(site, hedda, path, trained):
    _send(hedda, path, **END, **{"finish-seen_again_on": "2026-04-20"})
    assert "To be seen again on Mon 20 Apr 2026." in hedda.text
    assert [body["seen_again_on"] for _, body in _said(site)] == ["2026-04-20"]


def test_who_has_finished_is_neither_silent_nor_among_those_who_need_somebody(site, hedda, path, trained):
    hedda.open(path)
    assert "Noticed" in hedda.text
    assert _send(hedda, path, **END).status_code == 200
    assert "days_a_week" not in _said(site)[0][1]
    assert "Noticed" not in hedda.text
    for days in (0, 40):
        _later(site, hedda, days)
        row = _row(hedda)
        assert "Finished" in row
        assert "No session for" not in row
        assert 'class="button"' not in row, "nothing is to be done"


def test_a_letter_of_one_who_has_finished_still_stands_out(site, hedda, path, trained):
    _send(hedda, path, **END)
    site.receive(site.cellist, [event("letter_written", TODAY, {"text": "It is back."}, seq=60)])
    row = _row(hedda)
    assert "1 letter waits for you." in row
    assert 'class="button"' in row


def test_maintenance_is_silent_only_after_a_week(site, hedda, path, trained):
    _send(hedda, path)
    _later(site, hedda, 6)
    assert "No session for" not in _row(hedda)
    _later(site, hedda, 1)
    assert "No session for" in _row(hedda)
    hedda.open(path)
    assert "Noticed" in hedda.text


def test_training_again_counts_its_silence_from_its_own_day(site, hedda, path, trained):
    _send(hedda, path, **END)
    _later(site, hedda, 30)
    again = {"finish-course": "training", "finish-days_a_week": "", "finish-course_from": "2026-04-10"}
    assert _send(hedda, path, **again).status_code == 200
    assert "from Fri 10 Apr 2026" in hedda.text
    assert "Finished" in _row(hedda)
    _later(site, hedda, 3)
    row = _row(hedda)
    assert "Finished" not in row
    assert "No session for" not in row


def test_the_same_form_sent_twice_writes_once_and_an_older_page_must_read_the_newer_course(site, hedda, path, trained):
    entries = _entries(hedda, path)
    for _ in range(2):
        assert hedda.send(f"{path}/course", entries, follow=True).status_code == 200
    assert len(_said(site)) == 1
    assert hedda.send(f"{path}/course", entries | END, follow=True).status_code == 400
    assert "another course was set" in hedda.text
    assert len(_said(site)) == 1


@pytest.mark.parametrize("course", ["maintenance", "ended"])
def test_an_arm_that_is_held_allows_neither_maintenance_nor_the_end(site, hedda, path, course):
    hold_cellist(site)
    hedda.open(path)
    assert "An arm is held, so neither maintenance nor the end can be set." in hedda.text
    assert _send(hedda, path, **{"finish-course": course}).status_code == 400
    assert "Nothing was set: an arm is held." in hedda.text
    assert not _said(site)


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"finish-course": ""}, "What it is from then on: this is needed"),
        ({"finish-course": "paused"}, "is not among the choices"),
        ({"finish-days_a_week": ""}, "Days a week: this is needed"),
        ({"finish-days_a_week": "7"}, "is not among the choices"),
        ({"finish-seen_again_on": "2026-03-08"}, 'To be seen again on: "2026-03-08" is not a day from'),
        ({"finish-course_reason": " "}, "Why: the client reads it: this is needed"),
        ({"finish-course_reason": "x" * 281}, "281 characters are too many"),
        ({"finish-course_from": "2026-03-08"}, "is not a day from"),
        ({"finish-course_from": "2026-05-09"}, "is not a day from"),
        ({"finish-course_from": ""}, "From which day: this is needed"),
    ],
)
def test_half_a_form_is_shown_again_and_nothing_is_set(site, hedda, path, trained, changes, fault):
    assert _send(hedda, path, **changes).status_code == 400
    assert fault in hedda.text
    assert not _said(site)


def test_nobody_sets_the_course_of_another_practitioners_client(site, hedda, path, trained):
    entries = _entries(hedda, path)
    assert hedda.send(f"/practice/cases/{site.organ_builder.public_id}/course", entries).status_code == 404


def test_before_the_goal_the_section_is_folded_away(site, hedda, path, trained):
    hedda.open(path)
    assert "Finish before the goal is reached" in hedda.text
    assert "The goal is reached" not in hedda.text


def test_where_the_phone_asks_for_nothing_the_page_says_so(site, hedda, path, trained):
    assert "Today: 1 session" in hedda.open(path).text
    _send(hedda, path)
    assert "On a day with a session: 1 session" in hedda.text
    _send(hedda, path, **END)
    assert "Finished: the phone asks for no session." in hedda.text
    assert "As the arm stands, a day would ask: 1 session" in hedda.text
    assert "Today:" not in hedda.text
    assert ' do"' not in hedda.page.text, "nothing presses with a client who has finished"

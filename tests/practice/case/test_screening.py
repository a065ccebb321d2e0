"""The case page and the caseload when a client ticked a sign in the screening before the first session."""

import json
from datetime import date

import pytest

from tests.builders import event, screened, uuid7
from webapp.records import events
from webapp.sync.case.screening import screening_of

DAY = date(2026, 3, 8)
ENTRIES = {"start-reason": "Her heart doctor agrees.", "start-confirmed": "yes"}
WAITS = "The start waits for you"


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.cellist.public_id}"


@pytest.fixture
def waiting(site):
    """The cellist, who has joined and ticked that she has heart trouble."""
    site.begin(site.cellist, [screened(DAY, "heart")])


def _send(hedda, path, **changes):
    hedda.open(path)
    entries = hedda.form("/start").to_dict() | ENTRIES | changes
    return hedda.send(f"{path}/start", entries, follow=True)


def _look(hedda):
    """Look at the caseload until every log has been read."""
    while "being read" in hedda.open("/practice").text:
        pass


def _said(site):
    written = events.latest_of(site.db, site.cellist.id, ["screening_cleared"], 5)
    return [json.loads(each.raw)["body"] for each in written]


def test_a_client_who_has_not_answered_is_told_of_and_nothing_is_asked(site, hedda, path):
    site.begin(site.cellist, [])
    hedda.open(path)
    assert "Safety questions not answered yet" in hedda.text
    assert "The phone shows no exercise until the safety questions are answered." in hedda.text
    assert "Today:" not in hedda.text
    assert WAITS not in hedda.text


def test_the_sign_is_named_on_the_case_page_and_the_caseload_puts_the_client_first(site, hedda, path, waiting):
    site.begin(site.founder, [screened(DAY)])
    hedda.open(path)
    assert WAITS in hedda.text
    assert "You have heart trouble." in hedda.text
    assert "The phone shows no exercise until you agree to the start." in hedda.text
    assert "As the arm stands, a day would ask: " in hedda.text
    _look(hedda)
    assert hedda.text.index(WAITS) < hedda.text.index("Ansgar")


def test_agreeing_names_who_and_why_and_ends_the_wait(site, hedda, path, waiting):
    seen = {"start-seen_by": "doctor", "start-seen_on": "2026-03-08"}
    assert _send(hedda, path, **seen).status_code == 200
    assert "You agreed to the start." in hedda.text
    assert "Her heart doctor agrees." in hedda.text
    assert "a doctor, on Sun 8 Mar 2026" in hedda.text
    assert screening_of(site.db, site.cellist.id).waits_for == "nothing"
    [said] = _said(site)
    assert (said["by"], said["seen_by"]) == (site.hedda.name, {"role": "doctor", "on": "2026-03-08"})


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"start-reason": " "}, "Why it may start again: this is needed"),
        ({"start-confirmed": ""}, "Talked with the client: this is needed"),
        ({"start-seen_by": "doctor"}, "On which day: this is needed"),
        (
            {"start-seen_by": "doctor", "start-seen_on": "2026-03-10"},
            "is not a day from Sat 8 Mar 2025 to Mon 9 Mar 2026",
        ),
        ({"start-seen_by": "neighbour"}, "is not among the choices"),
        ({"start-reason": "x" * 281}, "281 characters are too many"),
        ({"start-seen": "0"}, "the client ticked another sign"),
    ],
)
def test_half_an_agreement_is_shown_again_and_nothing_is_recorded(site, hedda, path, waiting, changes, fault):
    assert _send(hedda, path, **changes).status_code == 400
    assert fault in hedda.text
    assert not _said(site)


def test_a_sign_that_came_in_meanwhile_must_be_read_first(site, hedda, path, waiting):
    hedda.open(path)
    entries = hedda.form("/start").to_dict() | ENTRIES
    site.receive(site.cellist, [screened(DAY, "diabetes", seq=70)])
    assert hedda.send(f"{path}/start", entries, follow=True).status_code == 400
    assert "You have diabetes and numb hands." in hedda.text
    assert not _said(site)


def _take_back(seq):
    return event("entry_corrected", DAY, {"replaces": uuid7(seq), "body": None}, seq=seq + 1)


@pytest.mark.parametrize("then", [[], [screened(DAY, seq=72)], [screened(DAY, "diabetes", seq=72)]])
def test_a_sign_that_was_taken_back_stays_to_be_read(site, hedda, path, then):
    site.begin(site.cellist, [screened(DAY, "heart", seq=70), _take_back(70), *then])
    hedda.open(path)
    assert "taken back on the phone: Sun 8 Mar 2026, “You have heart trouble.”" in hedda.text
    assert hedda.text.count("You have heart trouble.") == 1


def test_a_sign_that_was_taken_back_and_ticked_again_is_named_as_ticked_alone(site, hedda, path):
    site.begin(site.cellist, [screened(DAY, "heart", seq=70), _take_back(70), screened(DAY, "heart", seq=72)])
    hedda.open(path)
    assert WAITS in hedda.text
    assert "taken back on the phone" not in hedda.text


def test_agreeing_twice_changes_nothing(site, hedda, path, waiting):
    hedda.open(path)
    entries = hedda.form("/start").to_dict() | ENTRIES
    for _ in range(2):
        hedda.send(f"{path}/start", entries, follow=True)
    assert "Nothing waits for you any more" in hedda.text
    assert len(_said(site)) == 1


def test_nobody_agrees_for_another_practitioners_client(site, hedda, path, waiting):
    site.begin(site.organ_builder, [screened(DAY, "heart")])
    hedda.open(path)
    entries = hedda.form("/start").to_dict() | ENTRIES
    other = f"/practice/cases/{site.organ_builder.public_id}/start"
    assert hedda.send(other, entries).status_code == 404
    assert screening_of(site.db, site.organ_builder.id).waits_for == "practitioner"


def test_an_emergency_sign_of_the_screening_is_a_hold_with_the_release_that_names_who_saw_the_arm(site, hedda, path):
    raised = event("warning_raised", DAY, {"sign": "chest", "arms": ["right", "left"]}, seq=71)
    site.begin(site.cellist, [screened(DAY, "chest", reached="emergency"), raised])
    hedda.open(path)
    assert "The left arm is held" in hedda.text
    assert "Who has seen the arm" in hedda.text
    assert "the pages after it were not asked then" in hedda.text

"""The way back at the desk: the gate with its evidence, opening, the course of it, and ending."""

import json
import re
from datetime import date, timedelta
from hashlib import sha256

import pytest

from tests.builders import days_of, event, morning
from tests.cast import FIRST_DAY
from tests.practice.caseload.test_who_needs_you import groups_on
from webapp.records import events, practitioners

DAYS = 90
TODAY = FIRST_DAY + timedelta(days=DAYS)
ENTRIES = {
    "way-ladder": "hard_grip",
    "way-way_step": "1",
    "way-way_from": TODAY.isoformat(),
    "way-own_activity": "yes",
    "way-clinician": "none",
    "way-way_reason": "Ninety calm days. The bow and the oars may come back.",
}


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.cellist.public_id}/way-back"


def grown(site, reports):
    """Let days go by with these (session, morning), the last of them yesterday."""
    site.clock.pass_by(days=(FIRST_DAY + timedelta(days=len(reports)) - date(2026, 3, 9)).days)
    site.begin(site.cellist, days_of(FIRST_DAY, reports, arms=("left",)))


def signed_in(site):
    """Hedda at the desk, signed in at this instant."""
    visitor, token = site.visitor(), f"signed in on {site.clock().isoformat()}"
    digest = sha256(token.encode()).hexdigest()
    practitioners.begin_sign_in(site.db, site.hedda.id, digest, site.clock(), site.clock())
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor


@pytest.fixture
def desk(site):
    """The desk when the cellist has reached the top of the ladder, after ninety calm days."""
    grown(site, [(1, 1)] * DAYS)
    return signed_in(site)


def send(hedda, path, **changes):
    hedda.open(path)
    return hedda.send(f"{path}/open", hedda.form("/open").to_dict() | ENTRIES | changes, follow=True)


def written(site):
    found = events.latest_of(site.db, site.cellist.id, ["return_opened", "return_ended"], 9)
    return [(each.on_day, json.loads(each.raw)["kind"], json.loads(each.raw)["body"]) for each in found]


def test_the_gate_shows_each_point_with_its_evidence(desk, path):
    page = desk.open(path).text
    assert page.count("<b>Met:</b>") == 4
    assert page.count("<b>You ask:</b>") == 1
    assert "Known: 7, the highest 1." in page
    assert "Highest rating: 1." in page


def test_a_way_back_is_opened_read_on_the_case_page_and_ended(site, desk, path):
    send(desk, path)
    (opened,) = written(site)
    assert opened[:2] == (TODAY.isoformat(), "return_opened")
    assert opened[2] == {
        "ladder": "hard_grip", "step": 1, "gate": ["no_flare", "mornings", "sessions", "not_too_soon", "own_activity", "clinician"],
        "ticked": ["own_activity", "clinician"],
        "reason": ENTRIES["way-way_reason"], "by": "Hedda Marrow",
    }  # fmt: skip
    case = desk.open(path.removesuffix("/way-back")).text
    assert "Step 1 of 7: 0 of 2 outings settled, day 0 of its week." in case
    desk.open(path)
    desk.send(f"{path}/end", desk.form("/end").to_dict() | {"end-end_reason": "Back in the boat."}, follow=True)
    assert [kind for _, kind, _ in written(site)] == ["return_ended", "return_opened"]
    assert "None is open." in desk.open(path.removesuffix("/way-back")).text


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"way-own_activity": ""}, "Ask about the client"),
        ({"way-clinician": ""}, "clinician"),
        ({"way-clinician": "seen"}, "Who agrees"),
        ({"way-way_reason": ""}, "Why"),
        ({"way-way_step": "8"}, "First step"),
        ({"way-way_step": "up"}, "First step"),
        ({"way-ladder": "flying"}, "Back to"),
        ({"way-way_from": "2026-01-01"}, "From which day"),
        ({"way-way_from": str(TODAY + timedelta(days=2))}, "From which day"),
    ],
)
def test_what_is_missing_is_said_beside_its_field_and_what_was_typed_is_kept(site, desk, path, changes, sentence):
    answer = send(desk, path, **changes)
    assert answer.status_code == 400
    assert sentence in answer.text
    assert changes.get("way-way_reason", ENTRIES["way-way_reason"]) in answer.text
    assert not written(site)


@pytest.mark.parametrize(
    "reports",
    [
        [(1, 1)] * 70 + [(6, 5)] + [(1, 1)] * 10,
        [(1, 1)] * 83 + [(1, None)] + [(1, 1)] * 6,
        [(1, 1)] * 83 + [(4, 1)] + [(1, 1)] * 6,
        [(1, 1)] * 5,
    ],
    ids=["a flare", "a morning missing", "a session over 3", "the first week"],
)
def test_nothing_is_opened_while_a_point_is_not_met(site, path, reports):
    grown(site, reports)
    desk = signed_in(site)
    today = (FIRST_DAY + timedelta(days=len(reports))).isoformat()
    answer = send(desk, path, **{"way-way_from": today})
    assert "a point of the gate is not met" in answer.text
    assert "<b>Not met:</b>" in answer.text
    assert not written(site)


def test_the_same_form_twice_opens_once_and_one_from_before_another_s_act_opens_nothing(site, desk, path):
    desk.open(path)
    entries = desk.form("/open").to_dict() | ENTRIES
    for _ in range(2):
        assert desk.send(f"{path}/open", entries).status_code == 303
    assert len(written(site)) == 1
    answer = desk.send(f"{path}/open", entries | {"way-way_step": "3"})
    assert answer.status_code == 400
    assert "the way back was opened or ended" in answer.text


def test_outings_and_a_stopped_ladder_are_told(site, desk, path):
    send(desk, path)
    outings = [
        event("exposure_noted", TODAY + timedelta(days=on), {"what": "sport", "minutes": 5, "step": 1, "amount": "fewer" if on == 0 else "asked", "strokes": 12, "arms": {"left": {"worst": worst}}}, seq=400 + on)
        for on, worst in ((0, 2), (2, 4), (4, 5), (6, 4))
    ]  # fmt: skip
    mornings = [morning(TODAY + timedelta(days=on), 1, arms=("left",), seq=500 + on) for on in range(1, 8)]
    site.receive(site.cellist, [*outings, *mornings])
    site.clock.pass_by(days=7)
    desk = signed_in(site)
    page = desk.open(path).text
    for said in (
        "Stopped at step 1 of 7",
        "Three tries did not go well",
        "It was less than the step asks",
        "less, 12 lifts",
        "as asked, 12 lifts",
    ):
        assert said in page
    case = desk.open(path.removesuffix("/way-back")).text
    assert "The way back to sport or work is stopped" in case
    assert "Stopped at step 1 of 7" in case
    caseload = desk.open("/practice").text
    assert "The way back stopped at step 1 of 7: the third try did not go well.</b> Since yesterday." in caseload
    assert re.search(rf'href="{path}">Look at the way back', caseload)
    assert groups_on(desk.page)["needs"] == ["Isaura Linde"]
    desk.open(path)
    desk.send(f"{path}/end", desk.form("/end").to_dict() | {"end-end_reason": "A clinician looks first."})
    assert "The way back stopped" not in desk.open("/practice").text


def test_the_client_s_own_activity_is_worked_out_where_the_log_tells_it_and_sport_that_hurt_closes_the_gate(
    site, desk, path
):
    rated = [
        event("activity_rated", TODAY - timedelta(days=on), {"activity": "Wringing a cloth", "rating": 9}, seq=400 + on)
        for on in (1, 2, 3)
    ]
    site.receive(site.cellist, rated)
    page = desk.open(path).text
    assert page.count("<b>Met:</b>") == 5
    send(desk, path, **{"way-own_activity": ""})
    assert written(site)[0][2]["ticked"] == ["clinician"]
    assert "the log told of the client" in desk.open(path).text
    hurt = {"what": "sport", "minutes": 5, "step": 1, "arms": {"left": {"worst": 3}}}
    site.receive(site.cellist, [event("exposure_noted", TODAY, hurt, seq=500)])
    assert "Sport of the last week hurt 3" in desk.open(path).text
    assert send(desk, path, **{"way-way_step": "2"}).status_code == 400


def test_another_practitioner_s_client_has_no_such_page(site, hedda):
    assert hedda.open(f"/practice/cases/{site.organ_builder.public_id}/way-back").status_code == 404

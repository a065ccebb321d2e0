"""A client who tells the intake on the phone: added by name, the answers confirmed, no routine before that."""

import json
from datetime import date, timedelta

import pytest

from tests.builders import event, screened
from tests.cast import CELLIST, NOW
from webapp.dosing.settings import ARMS
from webapp.events.codec import check_body
from webapp.events.kinds import EventError
from webapp.library.routine import starter
from webapp.records import cases, events, routines
from webapp.sync.case.screening import screening_of

DAY = date(2026, 3, 8)
# At most three activities of the client's own, each 0 to 10: Stratford, Gill, Westaway and Binkley 1995, Physiotherapy
# Canada 47:258-263 (value from memory).
TOLD = {
    "arms": ["left"], "places": ["inner_elbow"], "usual": 2, "activities": [{"name": "Bowing", "rating": 4}],
    "weights_kg": [0.5, 1], "sport_days": 2, "other_care": ["physiotherapist"], "mass_kg": 61.5, "height_m": 1.68,
}  # fmt: skip
LEFT = {"sex": "unsaid", "screened": "yes"}
ASKED = {"short-name": "Runa Feld"}


@pytest.fixture
def runa(site, hedda):
    """A client of whom only the name is known."""
    hedda.open("/practice/add")
    hedda.send("/practice/add/name", hedda.form("/add/name").to_dict() | ASKED, follow=True)
    return next(case for case in cases.of_practitioner(site.db, site.hedda.id) if case.name == "Runa Feld")


def _look(hedda):
    """Look at the caseload until every log has been read."""
    while "being read" in hedda.open("/practice").text:
        pass


def _tell(site, case, body=TOLD, seq=1):
    entries = [screened(DAY, seq=900), event("intake_told", DAY, body, seq=seq)]
    site.receive(type("Client", (), {"id": case.id})(), entries)


def _confirm(hedda, case, **changes):
    path = f"/practice/cases/{case.public_id}/intake"
    hedda.open(path)
    return hedda.send(path, hedda.form("").to_dict(flat=False) | LEFT | changes, follow=True)


def test_a_client_is_added_by_name_and_the_phone_is_invited_first(site, hedda, runa):
    assert "Now invite the phone" in hedda.text
    assert "The client answers the questions" in hedda.text
    assert "Choose the routine" not in hedda.text
    assert screening_of(site.db, runa.id).asks_intake
    path = f"/practice/cases/{runa.public_id}/invite"
    assert 'href="#part-phones">Invite the phone<' in hedda.page.text
    assert "/join#" in hedda.fill("/invite", {"kind": "link"}, post_to=path).text
    _look(hedda)
    assert "Intake to come" in hedda.text
    assert hedda.open(f"/practice/cases/{runa.public_id}/routine").status_code == 404


def test_without_a_name_nobody_is_added_and_the_sheet_says_so(site, hedda):
    before = len(cases.of_practitioner(site.db, site.hedda.id))
    hedda.open("/practice/add")
    assert hedda.send("/practice/add/name", hedda.form("/add/name").to_dict()).status_code == 400
    assert "Name: this is needed" in hedda.text
    assert len(cases.of_practitioner(site.db, site.hedda.id)) == before


def test_what_was_told_is_on_the_sheet_and_the_practitioner_is_told_that_it_waits(site, hedda, runa):
    _tell(site, runa)
    assert screening_of(site.db, runa.id).waits_for == "practitioner"
    _look(hedda)
    assert "The start waits for you" in hedda.text
    hedda.open(f"/practice/cases/{runa.public_id}")
    assert "Intake to confirm" in hedda.text
    hedda.open(f"/practice/cases/{runa.public_id}/intake")
    filled = hedda.form("")
    assert (filled["area"], filled["arms"], filled["usual"]) == ("inner_elbow", "left", "2")
    assert (filled["mass_kg"], filled["height_m"]) == ("61.5", "168")
    assert "Bowing" in hedda.text
    assert "a physiotherapist" in hedda.text


def test_a_confirmed_intake_leads_to_the_routine_and_is_in_the_log(site, hedda, runa):
    _tell(site, runa)
    assert _confirm(hedda, runa, usual="3").status_code == 200
    kept = cases.find(site.db, site.hedda.id, runa.public_id)
    assert (kept.asks_intake, kept.intake["usual"], kept.intake["arms"]) == (False, 3, ["left"])
    assert [each["value"] for each in kept.intake["weights"]] == [0, 0.5, 1]
    [confirmed] = events.of_kind(site.db, runa.id, "intake_confirmed")
    assert json.loads(confirmed.raw)["body"] == {"by": site.hedda.name}
    assert not screening_of(site.db, runa.id).asks_intake


def test_half_a_confirmation_changes_nothing(site, hedda, runa):
    _tell(site, runa)
    assert _confirm(hedda, runa, screened="").status_code == 400
    assert _confirm(hedda, runa, usual="7").status_code == 400
    assert cases.find(site.db, site.hedda.id, runa.public_id).asks_intake
    assert not events.of_kind(site.db, runa.id, "intake_confirmed")


def test_confirming_twice_changes_nothing(site, hedda, runa):
    _tell(site, runa)
    path = f"/practice/cases/{runa.public_id}/intake"
    hedda.open(path)
    entries = hedda.form("").to_dict(flat=False) | LEFT
    for _ in range(2):
        hedda.send(path, entries, follow=True)
    assert "Nothing waits for you any more" in hedda.text
    assert len(events.of_kind(site.db, runa.id, "intake_confirmed")) == 1


def test_the_practitioner_may_fill_it_in_without_the_client(site, hedda, runa):
    all_of_it = {
        "area": "wrist",
        "arms": ["right"],
        "mass_kg": "70",
        "height_m": "175",
        "usual": "1",
        "weights": "1 kg",
    }
    assert _confirm(hedda, runa, **all_of_it).status_code == 200
    assert not cases.find(site.db, site.hedda.id, runa.public_id).asks_intake


def test_of_two_phones_the_later_answers_count(site, hedda, runa):
    _tell(site, runa)
    site.receive(type("Client", (), {"id": runa.id})(), [event("intake_told", DAY, TOLD | {"usual": 3}, seq=2)])
    assert screening_of(site.db, runa.id).own_intake.body["usual"] == 3


@pytest.mark.parametrize(
    "wrong",
    [
        {"arms": []}, {"arms": [*ARMS, "left"]}, {"places": ["knee"]}, {"usual": 11}, {"usual": None}, {"sport_days": 8},
        {"activities": [{"name": "x", "rating": 1}] * 4}, {"activities": [{"name": "x"}]}, {"weights_kg": [-1]},
        {"other_care": ["prayer"]}, {"mass_kg": "70"}, {"height_m": 9},
    ],
)  # fmt: skip
def test_a_broken_intake_is_refused(wrong):
    check_body("intake_told", TOLD)
    with pytest.raises(EventError):
        check_body("intake_told", TOLD | wrong)


def test_a_stop_before_the_intake_is_left_by_way_of_the_desk_and_a_release(site, hedda, runa):
    signs = [
        screened(DAY, "chest", reached="emergency", seq=900),
        event("warning_raised", DAY, {"sign": "chest", "arms": ["right", "left"]}, seq=901),
    ]
    site.receive(type("Client", (), {"id": runa.id})(), signs)
    path = f"/practice/cases/{runa.public_id}"
    hedda.open(path)
    assert "the arms then begin held, and you release them here" in hedda.text
    desk_answers = {"arms": "left", "area": "inner_elbow", "usual": "2", "mass_kg": "61.5", "height_m": "168"}
    assert _confirm(hedda, runa, **desk_answers).status_code == 200
    routines.push(site.db, runa.id, starter("inner_elbow"), CELLIST.settings, "", site.hedda.id, NOW)
    site.receive(
        type("Client", (), {"id": runa.id})(),
        [event("routine_received", DAY + timedelta(days=1), {"version": 1}, seq=902)],
    )
    hedda.open(path)
    assert "The left arm is held" in hedda.text
    assert "Who has seen the arm" in hedda.text

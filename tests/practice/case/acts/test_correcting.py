"""The intake corrected field by field: stored with one event, and no dose moves before a push."""

import json

import pytest

from tests import builders
from tests.cast import FIRST_DAY, HEDDA
from tests.practice.conftest import hold_cellist
from webapp.records import cases, events, routines
from webapp.sync.folding.fold import accounts_of

CASE, OTHERS = "/practice/cases/ansgar0001", "/practice/cases/livia00001"
CORRECT, DESK = f"{CASE}/intake/correct", f"{CASE}/routine"
TODAY = builders.date(2026, 3, 9)
WHY = {"correction_reason": "Weighed today."}


def _correct(hedda, page=CORRECT, *, follow=True, **changes):
    hedda.open(page)
    return hedda.fill("", {**WHY, **changes}, post_to=page, follow=follow)


def _events(site, client=None):
    client = client or site.founder
    return [json.loads(each.raw) for each in events.of_kind(site.db, client.id, "intake_corrected")]


def _case(site):
    return cases.find(site.db, site.hedda.id, "ansgar0001")


def test_body_and_arms_are_stored_with_one_event_and_the_routine_desk_comes_next(site, hedda):
    site.begin(site.founder, [])
    answer = _correct(hedda, mass_kg="80", height_m="179", sex="unsaid", area="wrist", follow=False)
    assert answer.location.endswith(DESK)
    intake, [event] = _case(site).intake, _events(site)
    assert (intake["mass_kg"], intake["height_m"], intake["sex"], intake["area"]) == (80, 1.79, None, "wrist")
    assert event["body"] == {
        "changes": [
            {"field": "area", "was": "outer_elbow", "now": "wrist"},
            {"field": "mass_kg", "was": 82.0, "now": 80.0},
            {"field": "height_m", "was": 1.81, "now": 1.79},
            {"field": "sex", "was": "male", "now": "unsaid"},
        ],
        "reason": "Weighed today.",
        "by": HEDDA.name,
    }
    hedda.open(DESK)
    assert "The phone keeps the old numbers until you push" in hedda.text
    for said in (
        "Body mass from 82 kg to 80 kg",
        "Height from 181 cm to 179 cm",
        "Sex from Male to Not said",
        "Push version 2",
    ):
        assert said in hedda.text


def test_the_dose_moves_with_a_push_and_not_before(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, [(2, 1)] * 6))
    before = accounts_of(site.db, site.founder.id, TODAY)["right"]
    _correct(hedda, mass_kg="60")
    now = accounts_of(site.db, site.founder.id, TODAY)["right"]
    assert (now.version, now.state, now.plan) == (before.version, before.state, before.plan)
    hedda.open(CASE)
    assert "Not in the routine yet : Body mass. Version 1 has other values" in hedda.text
    hedda.open(DESK)
    assert "carries on at rung" in hedda.text
    hedda.fill("/routine", {"step": "push", "rises_taken_on": "right"}, post_to=DESK)
    assert routines.latest(site.db, site.founder.id).settings["mass_kg"] == 60
    assert "Not in the routine yet" not in hedda.open(CASE).text


def test_a_correction_between_look_and_push_is_noticed(site, hedda):
    site.begin(site.founder, [])
    hedda.open(DESK)
    old = hedda.form("/routine")
    _correct(hedda, mass_kg="60")
    old["step"] = "push"
    old["note"] = "A word."
    assert hedda.send(DESK, old).status_code == 409
    assert routines.latest(site.db, site.founder.id).version == 1


def test_an_added_arm_starts_as_a_first_version_would_start_it(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, [(2, 1)] * 6))
    _correct(hedda, arms=["right", "left"])
    assert "Arms from Right arm to Both arms" in hedda.text
    assert "Left arm: begins on rung 3 of" in hedda.text
    hedda.fill("/routine", {"step": "push"}, post_to=DESK)
    site.receive(site.founder, [builders.event("routine_received", TODAY, {"version": 2, "bundle": ""}, seq=990)])
    accounts = accounts_of(site.db, site.founder.id, TODAY)
    assert (accounts["left"].state.rung, accounts["left"].state.first_week_day) == (3, 1)
    assert accounts["left"].state.first_week_stage == 1
    assert accounts["right"].version == 2


def test_an_arm_that_a_routine_was_pushed_for_stays_with_its_hold(site, hedda):
    hold_cellist(site)
    page = "/practice/cases/isaura0001/intake/correct"
    assert _correct(hedda, page, arms=["right"], mass_kg="66").status_code == 400
    assert "a routine was pushed for the left arm, so it stays" in hedda.text
    assert 'value="66"' in hedda.page.text
    assert not _events(site, site.cellist)
    assert accounts_of(site.db, site.cellist.id, TODAY)["left"].state.mode == "held"


def test_name_and_note_are_changed_and_their_words_stay_out_of_the_log(site, hedda):
    site.begin(site.founder, [])
    assert _correct(hedda, name="Ansgar Tolle-Reck", note="Prefers mornings.", follow=False).location.endswith(CASE)
    assert (_case(site).name, _case(site).intake["note"]) == ("Ansgar Tolle-Reck", "Prefers mornings.")
    [event] = _events(site)
    assert event["body"]["changes"] == [{"field": "name"}, {"field": "note"}]
    assert "mornings" not in json.dumps(event)
    hedda.open(CASE)
    assert "1 correction so far" in hedda.text
    assert "Name: changed" in hedda.text


def test_a_form_sent_twice_writes_once_and_an_older_page_overwrites_nothing(site, hedda):
    site.begin(site.founder, [])
    hedda.open(CORRECT)
    entries = hedda.form("").to_dict(flat=False) | WHY
    first, second = (hedda.send(CORRECT, entries | {"mass_kg": "80"}) for _ in range(2))
    assert (first.location, second.location) == (DESK, DESK)
    assert hedda.send(CORRECT, entries | {"height_m": "170"}).status_code == 409
    assert "the intake was corrected. Read what is kept now" in hedda.text
    assert "Body mass 80 kg" in hedda.text
    assert hedda.form("")["height_m"] == "170"
    assert len(_events(site)) == 1
    assert _case(site).intake["height_m"] == 1.81
    assert hedda.fill("", {}, post_to=CORRECT, follow=False).status_code == 303
    assert _case(site).intake["height_m"] == 1.70


def test_where_nothing_differs_nothing_is_recorded(site, hedda):
    site.begin(site.founder, [])
    _correct(hedda)
    assert "Nothing was different, so nothing was recorded." in hedda.text
    assert not _events(site)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"mass_kg": "820"}, 'Body mass: "820" is out of range'),
        ({"correction_reason": ""}, "Why it is corrected: this is needed"),
        ({"arms": []}, "Arms: this is needed"),
        ({"area": "knee"}, "is not among the choices"),
        ({"csrf_token": ""}, "What you typed is still here"),
    ],
)
def test_a_fault_stands_beside_its_field_and_what_was_typed_stays(site, hedda, changes, said):
    site.begin(site.founder, [])
    assert _correct(hedda, height_m="176", **changes).status_code == 400
    assert said in hedda.text
    assert hedda.form("")["height_m"] == "176"
    assert not _events(site)


def test_a_colleagues_case_is_not_there_and_an_intake_to_confirm_comes_first(site, hedda):
    assert hedda.open(f"{OTHERS}/intake/correct").status_code == 404
    cases.add(
        site.db,
        site.hedda.id,
        "runa0001",
        "Runa Feld",
        "en",
        {"by_client": True, "area": "", "arms": [], "weights": []},
        site.clock(),
    )
    assert hedda.open("/practice/cases/runa0001/intake/correct").location.endswith("/practice/cases/runa0001/intake")


def test_the_correction_is_carried_in_every_file_that_leaves(site, hedda):
    site.begin(site.founder, builders.days_of(FIRST_DAY, [(2, 1)] * 3))
    _correct(hedda, mass_kg="80", note="Prefers mornings.")
    text = hedda.open(f"{CASE}/records.json").text
    assert text.count("intake_corrected") == 1
    assert json.loads(text)["clients"][0]["client"]["intake"]["mass_kg"] == 80
    assert [hedda.open(f"{CASE}/records.{form}").status_code for form in ("csv", "fhir")] == [200, 200]

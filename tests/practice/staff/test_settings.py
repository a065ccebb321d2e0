"""The practice's settings: who may change them, what they do to routines, and what is refused."""

import pytest

from webapp.dosing.settings import BOUNDS, Tuning
from webapp.practice.forms.entries import LONGEST_NAME
from webapp.practice.staff.settings_form import TUNINGS
from webapp.records import cases, practices, practitioners

STAFF = "/practice/staff"


def _save(hedda, **changes):
    hedda.open(STAFF)
    return hedda.fill("", changes, post_to=STAFF)


def test_what_is_saved_stands_there_again(site, hedda):
    _save(
        hedda,
        house="Marrow, hands",
        zone="Europe/Oslo",
        telephone="22 55 01 00",
        begin_rise="0,2",
        least_climb_days="4",
    )
    assert "Saved." in hedda.text
    house = practices.find(site.db, site.hedda.practice)
    assert (house.name, house.zone, house.tunings, house.bounds) == (
        "Marrow, hands", "Europe/Oslo", {"rise": 0.2}, {"climb_days": (4, 7)},
    )  # fmt: skip
    assert hedda.form()["least_climb_days"] == "4"


@pytest.mark.parametrize("name", TUNINGS)
def test_no_bound_is_wider_than_the_rules(hedda, name):
    for column, value in (("least", BOUNDS[name].low - 1), ("most", BOUNDS[name].high + 1)):
        assert _save(hedda, **{f"{column}_{name}": str(value)}).status_code == 400


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"zone": "Lisbon"}, "is no time zone"),
        ({"house": "x" * (LONGEST_NAME + 1)}, "characters are too many"),
        ({"least_climb_days": "6", "most_climb_days": "4"}, "is under the least"),
        ({"least_climb_days": "5", "begin_climb_days": "4"}, "is out of range; it must be from 5 to 7"),
        ({"begin_low_reps": "15", "begin_goal_reps": "12"}, "must be under the most reps"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field_and_stays_typed(hedda, changes, said):
    page = _save(hedda, **changes)
    assert page.status_code == 400
    assert said in hedda.text
    assert {name: hedda.form()[name] for name in changes} == changes


def test_settings_that_were_changed_in_another_window_are_not_written_over(site, hedda):
    hedda.open(STAFF)
    stale = hedda.form()
    _save(hedda, house="The first")
    stale.setlist("house", ["The second"])
    assert "changed in another window" in hedda.send(STAFF, stale).text
    assert practices.find(site.db, site.hedda.practice).name == "The first"


def test_a_new_client_begins_with_the_practices_tuning_and_nobody_else_changes(site, hedda):
    _save(hedda, begin_rise="0.15", least_climb_days="5")
    cases.add(
        site.db,
        site.hedda.id,
        "newly00001",
        "Newly",
        "en",
        cases.find(site.db, site.hedda.id, "ansgar0001").intake,
        site.clock(),
    )
    hedda.open("/practice/cases/newly00001/routine")
    assert (hedda.form("/routine")["rise"], hedda.form("/routine")["climb_days"]) == ("0.15", "5")
    hedda.open("/practice/cases/ansgar0001/routine")
    assert hedda.form("/routine")["climb_days"] == str(Tuning().climb_days)
    hedda.open(STAFF)
    assert "Ansgar Tolle" in hedda.text
    assert "before the bounds were narrowed" in hedda.text


def test_no_routine_is_pushed_outside_the_practices_bounds(site, hedda):
    _save(hedda, least_climb_days="5")
    path = "/practice/cases/ansgar0001/routine"
    hedda.open(path)
    page = hedda.fill("/routine", {"step": "preview"}, post_to=path)
    assert page.status_code == 400
    assert "it must be from 5 to 7 settled days" in hedda.text


def test_the_house_stands_in_where_a_practitioner_has_no_number(site, hedda):
    _save(hedda, telephone="22 55 01 00", hours="weekdays")
    reach = practitioners.reach_for(site.db, site.founder.id)[1]
    assert (reach.telephone, reach.hours) == ("22 55 01 00", "weekdays")


def test_a_member_reads_the_bounds_and_changes_nothing(site, hedda, colleague):
    _save(hedda, least_climb_days="5")
    page = colleague.visitor.open(STAFF).text
    assert "5 to 7 settled days" in page
    assert '<button class="do"' not in page
    assert colleague.visitor.send(STAFF, {"house": "Mine"}).status_code == 404
    assert practices.find(site.db, site.hedda.practice).name == "Hedda Marrow"


def test_a_version_from_before_the_bounds_is_pushed_to_nobody_else(site, hedda):
    for case in ("ansgar0001", "isaura0001"):
        title = {"step": "preview", "title": "The same for both"}
        hedda.open(f"/practice/cases/{case}/routine")
        hedda.fill("/routine", title, post_to=f"/practice/cases/{case}/routine")
        hedda.fill("/routine", {"step": "push"}, post_to=f"/practice/cases/{case}/routine")
    hedda.open("/practice/cases/ansgar0001/routine")
    hedda.fill("/routine", {"step": "preview", "rest_seconds": "40"}, post_to="/practice/cases/ansgar0001/routine")
    hedda.fill("/routine", {"step": "push"}, post_to="/practice/cases/ansgar0001/routine")
    others = "/practice/cases/ansgar0001/versions/3/others"
    assert 'name="to" value="isaura0001"' in hedda.open(others).text
    _save(hedda, least_climb_days="5")
    assert 'name="to" value="isaura0001"' not in hedda.open(others).text

"""One routine for several clients: who follows the same one gets it too, with what is their own kept or named as lost."""

import re
from dataclasses import replace

import pytest

from tests import builders
from tests.cast import BELL_FOUNDER, FIRST_DAY
from webapp.records import routines

CASE = "/practice/cases/ansgar0001"
DESK = f"{CASE}/routine"
OTHERS = f"{CASE}/versions/2/others"
APPRENTICE = replace(BELL_FOUNDER, name="Wim Askel", public_id="wim0000001", usual=1)
CASTER = replace(BELL_FOUNDER, name="Gerda Loos", public_id="gerda00001")


@pytest.fixture
def wim(site):
    return builders.enrol(site.db, site.hedda.id, APPRENTICE)


def _push(hedda, desk=DESK, **changes):
    hedda.open(desk)
    hedda.fill("/routine", {"step": "preview", **changes}, post_to=desk)
    return hedda.fill("/routine", {"step": "push"}, post_to=desk)


def _versions(site, client):
    return routines.of_client(site.db, client.id)


def test_who_follows_the_same_routine_is_ticked_and_keeps_weights_and_usual_pain(site, hedda, wim):
    _push(hedda, goal_reps="15", weights="1 lb")
    before = _versions(site, wim)[0]
    hedda.open(OTHERS)
    assert "Wim Askel gets it" in hedda.text
    assert "Isaura Linde" not in hedda.text, "another routine"
    assert "Livia Korn" not in hedda.text, "of another practitioner"
    hedda.fill("/others", {"note": "Fewer reps for all."}, post_to=OTHERS)
    assert "on its way to 1 more client" in hedda.text
    newest = _versions(site, wim)[0]
    assert (newest.version, newest.note, newest.routine["tuning"]["goal_reps"]) == (2, "Fewer reps for all.", 15)
    assert {**newest.settings, "start_rungs": {}} == {**before.settings, "start_rungs": {}}


def test_whose_own_tuning_would_be_lost_is_listed_and_left_out_unless_ticked(site, hedda, wim):
    gerda = builders.enrol(site.db, site.hedda.id, CASTER)
    _push(hedda, "/practice/cases/gerda00001/routine", climb_days="5")
    _push(hedda, goal_reps="15")
    hedda.open(OTHERS)
    assert "1 own setting would be lost" in hedda.text
    assert hedda.form("/others").getlist("to") == ["wim0000001"]
    hedda.fill("/others", {}, post_to=OTHERS)
    assert [each.version for each in _versions(site, gerda)] == [2, 1]
    hedda.open(OTHERS)
    hedda.fill("/others", {"to": ["gerda00001"]}, post_to=OTHERS)
    assert _versions(site, gerda)[0].routine["tuning"]["climb_days"] == 3


def test_a_second_press_pushes_nothing_more(site, hedda, wim):
    _push(hedda, goal_reps="15")
    hedda.open(OTHERS)
    form = hedda.form("/others")
    hedda.send(OTHERS, form)
    assert hedda.send(OTHERS, form).status_code == 400
    assert [each.version for each in _versions(site, wim)] == [2, 1]


def test_an_arm_that_was_eased_by_hand_is_not_eased_again(site, hedda, wim):
    first = _versions(site, wim)[0]
    settings = {**first.settings, "start_rungs": {}, "eases": {"right": 1}}
    routines.push(site.db, wim.id, first.routine, settings, "", site.hedda.id, site.clock())
    _push(hedda, goal_reps="15")
    hedda.open(OTHERS)
    hedda.fill("/others", {}, post_to=OTHERS)
    newest = _versions(site, wim)[0]
    assert (newest.version, newest.settings.get("eases", {})) == (3, {})


def test_whoever_changed_meanwhile_gets_nothing_and_is_named(site, hedda, wim):
    _push(hedda, goal_reps="15")
    hedda.open(OTHERS)
    form = hedda.form("/others")
    _push(hedda, "/practice/cases/wim0000001/routine", climb_days="4")
    assert hedda.send(OTHERS, form).status_code == 409
    assert "meanwhile something changed for Wim Askel" in hedda.text
    assert len(_versions(site, wim)) == 2


def test_a_held_arm_stays_held_and_where_it_was(site, hedda, wim):
    days = builders.days_of(FIRST_DAY, [(2, 1), (2, 1)])
    site.begin(wim, [*days, builders.session(builders.date(2026, 3, 8), 9, arms=("right",), sharp=True, seq=50)])
    _push(hedda, goal_reps="25")
    hedda.open(OTHERS)
    rungs = re.search(r"from rung (\d+) to rung (\d+)", hedda.text)
    assert "Held" in hedda.text
    assert int(rungs[2]) <= int(rungs[1])


def test_nobody_ticked_and_too_long_a_note_are_answered_on_the_page(site, hedda, wim):
    _push(hedda, goal_reps="15")
    hedda.open(OTHERS)
    assert hedda.fill("/others", {"to": []}, post_to=OTHERS).status_code == 400
    assert "nobody is ticked" in hedda.text
    hedda.open(OTHERS)
    assert hedda.fill("/others", {"note": "x" * 601}, post_to=OTHERS).status_code == 400
    assert hedda.form("/others").getlist("to") == ["wim0000001"]
    assert len(_versions(site, wim)) == 1


def test_a_colleague_s_client_or_an_unknown_version_is_not_found(hedda):
    assert hedda.open("/practice/cases/livia00001/versions/1/others").status_code == 404
    assert hedda.open(f"{CASE}/versions/9/others").status_code == 404

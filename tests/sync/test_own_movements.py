"""Own movements in a phone's bundle: named, worded and drawn with no other page, and only where the routine uses them."""

import gzip

import pytest

from tests.cast import BELL_FOUNDER
from tests.own_movements import OVER_A_ROLL, WALL_ID, routine_with_own
from webapp.library.routine import starter
from webapp.library.shelf import the_shelf
from webapp.sync.bundle.bundle import bundle_bytes, make_stored_bundle, prescribed
from webapp.sync.folding.switch import is_same_for

WALL = f"own-{WALL_ID}"


def bundle_of(routine, locale="es"):
    return make_stored_bundle(routine, BELL_FOUNDER.settings, 1, "", locale)


@pytest.fixture(scope="module")
def bundle():
    return bundle_of(routine_with_own())


def test_the_session_says_the_practice_s_own_words_in_any_language(bundle):
    steps = [step for step in bundle["steps"] if step["movement"] == "palm_down" and step["kind"] == "reps"]
    assert {(step["name"], step["up"], step["down"]) for step in steps} == {("Palm down over a roll", 2, 5)}
    assert all(step["hint"].startswith("Forearm on the roll.") for step in steps)
    assert all("Palm down over a roll" in step["cue"] for step in steps)


def test_the_bundle_holds_all_that_the_phone_shows_of_it(bundle):
    roll, wall = bundle["movements"]["palm_down"], bundle["movements"][WALL]
    assert roll["name"] == OVER_A_ROLL["name"]
    assert roll["cues"] == {"up": "Lift", "down": "Slowly let it sink"}
    assert (roll["own"]["like"], roll["own"]["up"], roll["own"]["down"]) == ("palm_down", 40, 20)
    assert (roll["own"]["how"], roll["own"]["purpose"]) == (OVER_A_ROLL["how"], OVER_A_ROLL["purpose"])
    assert (wall["own"]["like"], wall["own"]["down"]) == ("stretch_palm_up_soft", 40)
    assert "up" not in wall["own"]
    assert "own" not in bundle["movements"]["palm_up"]


def test_the_cautions_of_the_shipped_movement_come_first_and_in_the_client_s_language(bundle):
    roll, wall = bundle["movements"]["palm_down"], bundle["movements"][WALL]
    shipped = bundle_of({**starter("inner_elbow")})["movements"]["stretch_palm_up_soft"]
    assert wall["leave_out"] == shipped["leave_out"]
    assert wall["leave_out"] != the_shelf().movements["stretch_palm_up_soft"].leave_out
    stop, own = roll["own"]["cautions"]
    assert own == OVER_A_ROLL["leave_out"]
    assert stop != "Stop this movement if it hurts more than 5 of 10."


def test_a_name_that_runs_the_other_way_keeps_to_itself():
    routine = routine_with_own()
    routine["own"][0] = {**routine["own"][0], "name": "כף יד למטה"}
    names = {step["name"] for step in bundle_of(routine)["steps"] if step["movement"] == "palm_down"}
    assert "\u2068כף יד למטה\u2069" in names


def test_a_sign_of_per_cent_is_a_letter_like_any_other():
    routine = routine_with_own()
    routine["own"][0] = {**routine["own"][0], "name": "Half %(name)s 50 %", "how": ["100 % slowly"]}
    assert bundle_of(routine)["movements"]["palm_down"]["name"] == "Half %(name)s 50 %"


def test_four_lifts_and_two_stretches_of_one_s_own_stay_within_what_a_slow_line_carries():
    routine = routine_with_own()
    likes = {"palm_up": (35, 55), "thumb_up": (20, 30), "little_finger_up": (30, 20)}
    routine["own"] += [
        {**OVER_A_ROLL, "id": f"{number:020x}", "version": 1, "like": like, "arc": {"arc_up": up, "arc_down": down}}
        for number, (like, (up, down)) in enumerate(likes.items(), 7)
    ]
    assert len(gzip.compress(bundle_bytes(bundle_of(routine)), mtime=0)) <= 30_000


def test_only_other_words_change_no_count_and_another_movement_does():
    def plan_of(routine):
        return prescribed(routine, BELL_FOUNDER.settings, 1).plan

    before, renamed = routine_with_own(), routine_with_own()
    renamed["own"][0] = {**renamed["own"][0], "name": "Over the towel", "version": 2}
    (arm,) = BELL_FOUNDER.settings["arms"]
    assert is_same_for(plan_of(before), plan_of(renamed), arm)
    assert not is_same_for(plan_of(starter("outer_elbow")), plan_of(before), arm)

"""A movement of a practice's own: what it may hold, and what a routine that carries it becomes."""

import pytest

from tests.own_movements import AT_THE_WALL, OVER_A_ROLL, ROLL_ID, WALL_ID, carried, routine_with_own
from webapp.dosing.settings import OwnLift, Stretch
from webapp.library.faults import NotAcceptedError
from webapp.library.own_movement import own_in, read_own_movement
from webapp.library.routine import read_routine, starter
from webapp.library.shelf import the_shelf


def faults_of(**other):
    with pytest.raises(NotAcceptedError) as caught:
        read_own_movement({**carried(OVER_A_ROLL), **other})
    return [(fault.key, fault.code) for fault in caught.value.faults]


def test_a_routine_carries_an_own_lift_in_the_place_of_the_shipped_one():
    routine = read_routine(routine_with_own())
    assert routine.own == (OwnLift("palm_down", 2, 5, 40, 20),)
    assert routine.directions == read_routine(starter("outer_elbow")).directions


def test_an_own_stretch_is_never_held_longer_than_the_shipped_one_whose_drawing_it_has():
    assert read_routine(routine_with_own()).stretches[-1] == Stretch(f"own-{WALL_ID}", 20)
    assert the_shelf().movements["stretch_palm_up_soft"].longest_hold_seconds == 20


def test_the_cautions_of_the_shipped_movement_stay():
    own = {movement.id: movement for movement in own_in(routine_with_own())}
    assert own[f"own-{WALL_ID}"].leave_out == the_shelf().movements["stretch_palm_up_soft"].leave_out
    assert own["palm_down"].own.leave_out == OVER_A_ROLL["leave_out"]


def test_its_words_are_never_translated():
    (roll, _) = own_in(routine_with_own())
    assert roll.said(str.upper).name == "Palm down over a roll"
    assert the_shelf().movements["palm_down"].said(str.upper).name == "PALM DOWN"


@pytest.mark.parametrize(
    ("other", "fault"),
    [
        ({"id": ROLL_ID[1:]}, ("id", "not_fitting")),
        ({"like": "thumb_down"}, ("like", "not_one_of")),
        ({"name": "x " * 26}, ("name", "too_long")),
        ({"name": "x" * 31}, ("name", "long_word")),
        ({"name": "ring\x07"}, ("name", "unprintable")),
        ({"purpose": "turned \u202e round"}, ("purpose", "unprintable")),
        ({"how": []}, ("how", "line_count")),
        ({"how": ["one"] * 5}, ("how", "line_count")),
        ({"mistakes": ["Do not\nbreak"]}, ("mistakes", "unprintable")),
        ({"cues": {"start": "a", "up": "b"}}, ("cues.down", "missing_key")),
        # The full range of a gripped wrist is the most that the core counts: 55 degrees of extension (gripped-flexion-2015).
        ({"arc": {"arc_up": 56, "arc_down": 20}}, ("arc.arc_up", "out_of_range")),
        ({"arc": {"arc_up": 27, "arc_down": 20}}, ("arc.arc_up", "out_of_range")),
        ({"arc": {"arc_up": 40, "arc_down": 20, "arc_in": 3}}, ("arc.arc_in", "unknown_key")),
        ({"tempo": {"up_seconds": 2, "down_seconds": 9}}, ("tempo.down_seconds", "out_of_range")),
        ({"tempo": {"up_seconds": 2, "down_seconds": 3, "hold_seconds": 2}}, ("tempo.hold_seconds", "unknown_key")),
        ({"version": 10**9}, ("version", "out_of_range")),
    ],
)
def test_what_does_not_fit_is_told_with_its_place(other, fault):
    assert faults_of(**other) == [fault]


def test_every_fault_of_one_movement_is_told():
    assert faults_of(name="", tempo="fast") == [
        ("tempo", "not_a_table"),
        ("tempo.up_seconds", "missing_key"),
        ("tempo.down_seconds", "missing_key"),
        ("name", "not_a_text"),
    ]


def test_two_own_lifts_of_one_direction_are_one_too_many():
    both = [carried(OVER_A_ROLL), carried({**OVER_A_ROLL, "name": "Another"}, WALL_ID)]
    with pytest.raises(NotAcceptedError) as caught:
        read_routine({**starter("outer_elbow"), "own": both})
    assert [(fault.key, fault.code) for fault in caught.value.faults] == [("own[2].like", "twice")]


def test_a_routine_cannot_name_an_own_movement_that_it_does_not_carry():
    routine = {**starter("outer_elbow"), "stretches": [f"own-{WALL_ID}"]}
    with pytest.raises(NotAcceptedError) as caught:
        read_routine(routine)
    assert [fault.code for fault in caught.value.faults] == ["not_a_movement"]


def test_an_own_movement_of_another_kind_cannot_stand_for_a_stretch():
    circle = {**AT_THE_WALL, "like": "fingers", "arc": {}, "tempo": {"reps": 10, "seconds_each": 3}}
    routine = {
        **starter("outer_elbow"),
        "own": [carried(circle, WALL_ID)],
        "stretches": [f"own-{WALL_ID}"],
    }
    with pytest.raises(NotAcceptedError) as caught:
        read_routine(routine)
    assert [fault.code for fault in caught.value.faults] == ["not_a_movement"]

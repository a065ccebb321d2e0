"""Routines and clients are taken whole or not at all, and every fault is told at once."""

import pytest

from webapp.dosing.settings import Tuning
from webapp.library.client import load_client, load_client_file, read_client
from webapp.library.faults import NotAcceptedError
from webapp.library.routine import load_routine, read_routine, starter

BAD_ROUTINE = """title = ""
area = "knee"
directions = ["palm_down", "palm_up", "thumb_up", "thumb_up"]
stretches = ["fingers"]
colour = "red"

[[warm_ups]]
movement = "fingers"

[[warm_ups]]
movement = "circls"
reps = 99

[tuning]
low_reps = 15
goal_reps = 12
rise = "big"
widen_days = true

[tempo]
rest_seconds = nan
"""
CLIENT = {"mass_kg": 64, "height_m": 1.68, "sex": "female", "arms": ["right"], "weights_kg": [0, 0.5], "usual": 2}


def faults_of(read, entries):
    with pytest.raises(NotAcceptedError) as caught:
        read(entries)
    return [(fault.line, fault.key, fault.code) for fault in caught.value.faults]


def written(tmp_path, text):
    path = tmp_path / "file.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_fault_of_a_routine_is_told_with_its_line(tmp_path):
    assert faults_of(load_routine, written(tmp_path, BAD_ROUTINE)) == [
        (1, "title", "not_a_text"),
        (2, "area", "not_one_of"),
        (3, "directions", "not_all_four"),
        (4, "stretches", "not_a_movement"),
        (5, "colour", "unknown_key"),
        (11, "warm_ups[2].movement", "not_a_movement"),
        (12, "warm_ups[2].reps", "out_of_range"),
        (15, "tuning.low_reps", "low_not_under_goal"),
        (17, "tuning.rise", "not_a_number"),
        (18, "tuning.widen_days", "not_a_number"),
        (21, "tempo.rest_seconds", "out_of_range"),
    ]


def test_a_rule_between_two_values_waits_for_a_value_that_can_be_read():
    entries = {**starter("wrist"), "tuning": {"hold_shortest_seconds": "short", "hold_longest_seconds": 20}}
    assert faults_of(read_routine, entries) == [(None, "tuning.hold_shortest_seconds", "not_a_number")]


def test_what_a_routine_leaves_out_is_as_it_comes():
    entries = starter("wrist")
    del entries["tuning"]
    assert read_routine(entries).tuning == Tuning()


def test_a_source_nobody_has_heard_of_is_a_fault():
    entries = {**starter("wrist"), "sources": {"tempo": ["hearsay-1999"]}}
    assert faults_of(read_routine, entries) == [(None, "sources.tempo", "not_a_source")]


@pytest.mark.parametrize("shape", [[1], "text", 3])
def test_a_thing_that_is_no_table_is_refused(shape):
    assert faults_of(read_routine, {**starter("wrist"), "tuning": shape}) == [(None, "tuning", "not_a_table")]


def test_the_range_of_a_fault_is_that_of_the_core():
    with pytest.raises(NotAcceptedError) as caught:
        read_client({**CLIENT, "mass_kg": 640})
    (fault,) = caught.value.faults
    assert (fault.value, fault.rule) == (640, (30, 250, "kg"))


def test_every_fault_of_a_client_is_told(tmp_path):
    text = 'mass_kg = 640\nsex = "fem"\narms = ["right", "right"]\nweights_kg = [0.5, 12, "x"]\nusual = 7\nstart_rungs = { right = 0 }\n'
    assert faults_of(load_client, written(tmp_path, text)) == [
        (1, "mass_kg", "out_of_range"),
        (1, "height_m", "missing_key"),
        (2, "sex", "not_one_of"),
        (3, "arms", "some_of"),
        (4, "weights_kg", "out_of_range"),
        (4, "weights_kg", "not_a_number"),
        (4, "weights_kg", "zero_missing"),
        (5, "usual", "out_of_range"),
        (6, "start_rungs.right", "out_of_range"),
    ]


def test_a_stored_client_with_nothing_chosen_is_read():
    client = read_client({**CLIENT, "sex": None, "start_rungs": {}, "weights": [{"value": 1, "unit": "lb"}]})
    assert client.body.sex is None
    assert client.start_rungs.right is None
    assert client.weights_kg == (0, 0.5)


@pytest.mark.parametrize(
    ("name", "value", "rule"),
    [
        ("widen_days", 2, (3, 7, "settled days")),
        ("climb_days", 8, (3, 7, "settled days")),
        ("heavier_days", 6, (7, 14, "settled days")),
        ("heavier_days", 15, (7, 14, "settled days")),
        ("fast_heavier_days", 4, (5, 14, "settled days")),
        ("top_share", 0.41, (0.30, 0.40, "of the estimated maximum")),
        ("settled_during", 6, (2, 5, "of 10")),
    ],
)
def test_a_tuning_outside_its_bounds_is_refused(name, value, rule):
    with pytest.raises(NotAcceptedError) as caught:
        read_routine({**starter("wrist"), "tuning": {name: value}})
    (fault,) = caught.value.faults
    assert (fault.key, fault.code, fault.rule) == (f"tuning.{name}", "out_of_range", rule)


@pytest.mark.parametrize("usual", [4, 5])
def test_a_usual_pain_of_four_or_five_needs_a_clinician_who_has_seen_the_arm(usual):
    assert faults_of(read_client, {**CLIENT, "usual": usual}) == [(None, "usual", "clinician_unseen")]
    client = read_client({**CLIENT, "usual": usual, "clinician_seen": True})
    assert (client.usual, client.clinician_seen) == (usual, True)


def test_a_usual_pain_of_three_needs_no_clinician():
    assert read_client({**CLIENT, "usual": 3}).clinician_seen is False


@pytest.mark.parametrize("word", ["yes", 1, []])
def test_whether_a_clinician_has_seen_the_arm_is_true_or_false(word):
    assert faults_of(read_client, {**CLIENT, "clinician_seen": word}) == [(None, "clinician_seen", "not_a_truth")]


def test_weights_are_kept_as_they_were_entered(tmp_path):
    text = 'mass_kg = 64\nheight_m = 1.68\narms = ["left"]\nweights_kg = [0]\nusual = 0\n[[weights]]\nvalue = 1\nunit = "lb"\n'
    assert load_client_file(written(tmp_path, text)).weights == ({"value": 1, "unit": "lb"},)


def test_a_client_may_begin_each_arm_on_a_rung_of_its_own():
    client = read_client({**CLIENT, "arms": ["right", "left"], "start_rungs": {"right": 1, "left": 5}})
    assert client.start_rungs == (1, 5)


@pytest.mark.parametrize(
    ("rungs", "key", "code"),
    [
        ({"left": 5}, "start_rungs.left", "not_trained"),
        ({"both": 5}, "start_rungs.both", "unknown_key"),
        ({"right": "5"}, "start_rungs.right", "not_a_number"),
        (5, "start_rungs", "not_a_table"),
    ],
)
def test_a_start_rung_that_cannot_be_used_is_named(rungs, key, code):
    with pytest.raises(NotAcceptedError) as refused:
        read_client({**CLIENT, "arms": ["right"], "start_rungs": rungs})
    assert [(fault.key, fault.code) for fault in refused.value.faults] == [(key, code)]

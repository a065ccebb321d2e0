"""Coding of events: what is taken, what is refused, and by which rule."""

from copy import deepcopy

import pytest

from tests.builders import played
from webapp.events import kinds
from webapp.events.codec import decode, encode
from webapp.events.kinds import EventError

SESSION = {
    "id": "01935e0a-0000-7000-8000-000000000001",
    "kind": "session_finished",
    "v": 1,
    "on": "2026-05-14",
    "at": "2026-05-14T07:12:03.000Z",
    "zone": "Europe/Lisbon",
    "seq": 3,
    "body": {
        "routine": 1,
        "arms": {"right": {"worst": 2, "sharp": False, "sets": played()}},
        "asked_steps": 20,
        "done_steps": 20,
        "active_seconds": 610,
        "ended": "completed",
        "why": "",
        "note": "",
    },
}


def changed(path, value, sent=SESSION):
    sent = deepcopy(sent)
    inner = sent
    *outer, last = path.split("/")
    for name in outer:
        inner = inner[int(name) if isinstance(inner, list) else name]
    inner[int(last) if isinstance(inner, list) else last] = value
    return sent


def without(key, thing):
    return {name: value for name, value in thing.items() if name != key}


RELEASE = {"rung": 1, "range": 0.75, "covers": [], "reason": "Looked at.", "by": "Hedda Hollis"}
SETS = "body/arms/right/sets"
SET = played()[0]


def test_what_is_decoded_encodes_to_the_same_object():
    assert encode(decode(SESSION)) == SESSION


def test_fields_that_are_not_known_are_kept():
    sent = changed("body/mood", "calm")
    assert encode(decode(sent)) == sent


def test_a_kind_that_is_not_known_is_taken_as_it_is():
    sent = {**SESSION, "kind": "tremor_felt", "body": {"anything": [1, 2]}}
    assert encode(decode(sent)) == sent


def test_a_session_tells_how_it_was_done_and_what_was_eased():
    eased = [{"step": 7, "what": lever, "movement": "palm_down"} for lever in kinds.EASINGS]
    sent = changed("body/eased", eased, changed("body/ways", ["short", "own_pace"]))
    sent = changed("body/sharp_told", {"where": "outer_elbow", "like": "catch", "sign": False}, sent)
    assert encode(decode(sent)) == sent


@pytest.mark.parametrize(
    ("path", "value", "field", "code"),
    [
        ("id", "7", "id", "wrong_form"),
        ("id", SESSION["id"].upper(), "id", "wrong_form"),
        ("kind", "", "kind", "wrong_form"),
        ("kind", "Not a kind", "kind", "wrong_form"),
        ("on", "14.05.2026", "on", "not_a_day"),
        ("on", "2026-02-30", "on", "not_a_day"),
        ("at", "2026-05-14T07:12:03", "at", "not_an_instant"),
        ("zone", "here; drop", "zone", "wrong_form"),
        ("zone", "A" * 65, "zone", "wrong_form"),
        ("seq", 0, "seq", "not_in_range"),
        ("seq", True, "seq", "not_in_range"),
        ("body", [], "body", "not_an_object"),
        ("body/arms", {}, "body.arms", "arms_missing"),
        ("body/arms", {"third": {"worst": 1}}, "body.arms", "not_one_of"),
        ("body/arms/right/worst", 11, "body.arms.right.worst", "not_in_range"),
        ("body/arms/right/worst", 2.5, "body.arms.right.worst", "not_in_range"),
        ("body/arms/right/sharp", "no", "body.arms.right.sharp", "not_a_truth"),
        ("body/arms/right", {"worst": 2, "sharp": False}, "body.arms.right.sets", "not_a_list"),
        (SETS, None, "body.arms.right.sets", "not_a_list"),
        (SETS, [SET] * 21, "body.arms.right.sets", "not_a_list"),
        (SETS, ["palm_down"], "body.arms.right.sets.0", "not_an_object"),
        (f"{SETS}/1", without("movement", SET), "body.arms.right.sets.1.movement", "not_a_text"),
        (f"{SETS}/1/movement", "x" * 81, "body.arms.right.sets.1.movement", "not_a_text"),
        (f"{SETS}/3/reps", -1, "body.arms.right.sets.3.reps", "not_in_range"),
        (f"{SETS}/3/reps", 1001, "body.arms.right.sets.3.reps", "not_in_range"),
        (f"{SETS}/3/reps", 7.5, "body.arms.right.sets.3.reps", "not_in_range"),
        (f"{SETS}/0/load_kg", -0.5, "body.arms.right.sets.0.load_kg", "not_in_range"),
        (f"{SETS}/0/load_kg", 51, "body.arms.right.sets.0.load_kg", "not_in_range"),
        (f"{SETS}/0/load_kg", True, "body.arms.right.sets.0.load_kg", "not_in_range"),
        (f"{SETS}/0/range", 1.25, "body.arms.right.sets.0.range", "not_in_range"),
        (f"{SETS}/0/range", None, "body.arms.right.sets.0.range", "not_in_range"),
        (f"{SETS}/0/share", 1001, "body.arms.right.sets.0.share", "not_in_range"),
        (f"{SETS}/0/share", 0.8, "body.arms.right.sets.0.share", "not_in_range"),
        (f"{SETS}/0", without("share", SET), "body.arms.right.sets.0.share", "not_in_range"),
        ("body/ended", "exploded", "body.ended", "not_one_of"),
        ("body/note", "x" * 281, "body.note", "not_a_text"),
        ("body/active_seconds", -1, "body.active_seconds", "not_in_range"),
        ("body/ways", "short", "body.ways", "not_a_list"),
        ("body/ways", ["blindfold"], "body.ways", "not_one_of"),
        ("body/eased", {"step": 3}, "body.eased", "not_a_list"),
        ("body/eased", [{"step": 3, "what": "range"}] * 201, "body.eased", "not_a_list"),
        ("body/eased", ["range"], "body.eased.0", "not_an_object"),
        ("body/eased", [{"step": -1, "what": "range"}], "body.eased.0.step", "not_in_range"),
        ("body/eased", [{"step": 3, "what": "speed"}], "body.eased.0.what", "not_one_of"),
        ("body/eased", [{"step": 3, "what": "load", "movement": 7}], "body.eased.0.movement", "not_a_text"),
        ("body/sharp_told", None, "body.sharp_told", "not_an_object"),
        ("body/sharp_told", {"where": "knee", "like": "stab", "sign": False}, "body.sharp_told.where", "not_one_of"),
        ("body/sharp_told", {"where": "wrist", "like": "odd", "sign": False}, "body.sharp_told.like", "not_one_of"),
        ("body/sharp_told", {"where": "wrist", "like": "stab", "sign": "no"}, "body.sharp_told.sign", "not_a_truth"),
    ],
)
def test_a_fault_names_the_field_and_the_rule(path, value, field, code):
    with pytest.raises(EventError) as caught:
        decode(changed(path, value))
    assert (caught.value.field, caught.value.code) == (field, code)
    assert caught.value.rule


@pytest.mark.parametrize(
    ("kind", "body", "field"),
    [
        ("morning_reported", {"arms": {"left": {"pain": None}}}, "body.arms.left.pain"),
        ("exposure_noted", {"what": "flying"}, "body.what"),
        ("exposure_noted", {"what": "sport", "minutes": 1441}, "body.minutes"),
        ("exposure_noted", {"what": "sport", "begins": "24:00"}, "body.begins"),
        ("away_noted", {"first": "2026-03-09", "last": "2026-03-08", "what": "ill"}, "body.last"),
        ("away_noted", {"first": "2026-03-08", "last": "2026-03-08", "what": "lazy"}, "body.what"),
        (
            "away_noted",
            {"first": "2026-03-08", "last": "2026-03-08", "what": "ill", "happened": ["x"]},
            "body.happened",
        ),
        ("habit_chosen", {"habit": "warmth", "by": 3}, "body.by"),
        ("habit_noted", {"habit": "straight wrist", "kept": 1}, "body.kept"),
        ("letter_written", {"text": 3}, "body.text"),
        ("routine_received", {"version": 0}, "body.version"),
        ("warning_raised", {"sign": "numb", "arms": []}, "body.arms"),
        ("warning_raised", {"sign": "numb", "arms": ["right"], "holds": None}, "body.holds"),
        ("entry_corrected", {"replaces": "that one"}, "body.replaces"),
        ("hold_released", {"arms": {"right": {**RELEASE, "rung": 0}}}, "body.arms.right.rung"),
        ("hold_released", {"arms": {"right": without("range", RELEASE)}}, "body.arms.right.range"),
        ("hold_released", {"arms": {"right": {**RELEASE, "range": 0.6}}}, "body.arms.right.range"),
        ("hold_released", {"arms": {"right": {**RELEASE, "range": True}}}, "body.arms.right.range"),
        ("hold_released", {"arms": {"right": without("covers", RELEASE)}}, "body.arms.right.covers"),
        ("hold_released", {"arms": {"right": {**RELEASE, "covers": ["all"]}}}, "body.arms.right.covers"),
        ("hold_released", {"arms": {"right": {**RELEASE, "reason": "x" * 281}}}, "body.arms.right.reason"),
        ("hold_released", {"arms": {"right": without("by", RELEASE)}}, "body.arms.right.by"),
        (
            "hold_released",
            {"arms": {"right": {**RELEASE, "seen_by": {"on": "2026-03-09"}}}},
            "body.arms.right.seen_by.role",
        ),
        (
            "hold_released",
            {"arms": {"right": {**RELEASE, "seen_by": {"role": "doctor", "on": "soon"}}}},
            "body.arms.right.seen_by.on",
        ),
    ],
)
def test_each_kind_checks_its_own_body(kind, body, field):
    with pytest.raises(EventError) as caught:
        decode({**SESSION, "kind": kind, "body": body})
    assert caught.value.field == field


@pytest.mark.parametrize("share", [1, 0.75, 0.5])
def test_a_release_names_its_rung_and_a_range_that_doses_know(share):
    sent = {**SESSION, "kind": "hold_released", "body": {"arms": {"left": {**RELEASE, "range": share}}}}
    assert encode(decode(sent)) == sent


def test_an_arm_that_did_no_set_says_so_with_an_empty_list():
    sent = changed(SETS, [])
    assert encode(decode(sent)) == sent


@pytest.mark.parametrize("sent", [None, [], "text", 3, {1: 2}])
def test_what_is_no_object_is_refused(sent):
    with pytest.raises(EventError):
        decode(sent)

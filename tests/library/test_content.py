"""The content that comes with the program: whole, sourced, and fitting the core."""

import dataclasses
import re
import tomllib

import pytest

from webapp.config import content_dir
from webapp.dosing import figures
from webapp.dosing.faults import faults_of_routine
from webapp.dosing.rules import RULES
from webapp.dosing.settings import BOUNDS, DIRECTION_OF, Stretch
from webapp.events.kinds import LEVELS
from webapp.library.faults import NotAcceptedError
from webapp.library.movement import read_movement
from webapp.library.routine import load_routine, read_routine, starter
from webapp.library.shelf import the_shelf

AREAS = ("inner_elbow", "outer_elbow", "wrist")
WARM_UPS = ("circles_little_first", "circles_thumb_first", "fingers")
STRETCHES = ("stretch_palm_down", "stretch_palm_up", "stretch_palm_up_soft")


def figures_of_the_core():
    for value in vars(figures).values():
        held = value.values() if isinstance(value, dict) else (value,)
        if isinstance(value, tuple) and not isinstance(value, figures.Figure):
            held = value
        yield from (each for each in held if isinstance(each, figures.Figure))


def test_every_number_of_the_core_cites_a_source():
    cited = {figure.source for figure in figures_of_the_core()}
    cited |= {bound.basis for bound in BOUNDS.values()} | {rule.basis for rule in RULES}
    assert len(cited) > 10
    assert cited <= set(the_shelf().sources)


@pytest.mark.parametrize("area", AREAS)
def test_every_number_of_a_starter_routine_cites_a_source(area):
    entries = tomllib.loads((content_dir() / "routines" / f"{area}.toml").read_text(encoding="utf-8"))
    numbered = {*entries["tuning"], *entries["tempo"], "warm_ups"}
    assert numbered <= set(entries["sources"])
    assert all(entries["sources"].values())


@pytest.mark.parametrize("area", AREAS)
def test_a_starter_routine_has_no_fault_and_states_every_number(area):
    routine = load_routine(content_dir() / "routines" / f"{area}.toml")
    assert faults_of_routine(routine) == []
    assert routine.area == area
    assert read_routine(starter(area)) == routine
    stated = set(starter(area)["tuning"]) | {"accepted_jumps_kg"}
    assert stated == {field.name for field in dataclasses.fields(routine.tuning)}


def test_the_inner_elbow_starts_with_the_easier_stretch():
    assert read_routine(starter("inner_elbow")).stretches[0] == Stretch("stretch_palm_up_soft", 20)


def test_the_shelf_holds_the_movements_of_the_job():
    shelf = the_shelf()
    assert shelf.of_kind("warm_up") == WARM_UPS
    assert shelf.of_kind("stretch") == STRETCHES
    assert {id_: shelf.movements[id_].direction for id_ in shelf.of_kind("lift")} == DIRECTION_OF


@pytest.mark.parametrize("id_", sorted((*WARM_UPS, *STRETCHES, *DIRECTION_OF)))
def test_a_movement_has_two_to_four_form_cues_mistakes_and_short_lines_to_speak(id_):
    movement = the_shelf().movements[id_]
    assert 2 <= len(movement.how) <= 4
    assert 1 <= len(movement.mistakes) <= 3
    assert all(len(line) <= 30 for line in (movement.cues.up, movement.cues.down))
    assert len(movement.cues.start) <= 60


@pytest.mark.parametrize("id_", sorted({*WARM_UPS, *DIRECTION_OF} - {"little_finger_up"}))
def test_the_forearm_rests_on_a_towel_on_a_table_and_the_thigh_is_the_other_way(id_):
    first = the_shelf().movements[id_].how[0]
    assert first.index("table on a folded towel") < first.index("or along your thigh")


def test_the_little_finger_lift_is_done_standing_with_the_weight_pointing_back():
    first = the_shelf().movements["little_finger_up"].how[0]
    assert first.startswith("Stand")
    assert first.endswith("pointing back.")


@pytest.mark.parametrize("id_", ["palm_down", "palm_up", "thumb_up"])
def test_no_lowering_goes_further_than_todays_mark(id_):
    lines = the_shelf().movements[id_].how
    assert any("as far as today's mark" in line for line in lines)
    assert not any("hangs" in line for line in lines)


@pytest.mark.parametrize(
    ("id_", "words"),
    [
        ("palm_up", "while the hand tingles"),
        ("thumb_up", "the thumb side of the wrist or the base of the thumb is sore"),
        ("little_finger_up", "little-finger side of the wrist hurts or the last two fingers tingle"),
        ("stretch_palm_up", "while the hand or the fingers tingle"),
        (
            "stretch_palm_up_soft",
            "while the ring finger or the little finger tingles, or if you feel tingling when you press behind the sore inner point",
        ),
    ],
)
def test_a_movement_says_when_to_leave_it_out(id_, words):
    assert words in the_shelf().movements[id_].leave_out


@pytest.mark.parametrize("id_", DIRECTION_OF)
def test_a_lift_asks_for_a_soft_grip_and_stops_over_five_of_ten(id_):
    lines = " ".join(the_shelf().movements[id_].how)
    assert "Wrap a thin handle in cloth" in lines
    assert "if it hurts more than 5 of 10" in lines


@pytest.mark.parametrize("id_", ["palm_down", "palm_up", "thumb_up"])
def test_a_lift_on_the_table_keeps_the_elbow_square_and_off_its_inner_bone(id_):
    movement = the_shelf().movements[id_]
    assert any("elbow bent at about a right angle" in line for line in movement.how)
    assert any("elbow's inner bone" in line for line in movement.mistakes)


def test_a_sore_wrist_or_a_night_of_tingling_lowers_the_palm_only_half_as_far():
    assert (
        "If the wrist is sore, or the hand tingles at night, go only half as far"
        in the_shelf().movements["palm_up"].how[2]
    )


def test_only_the_soft_stretch_has_a_longest_hold_of_its_own_and_says_the_same():
    movements = the_shelf().movements
    longest = {id_: each.longest_hold_seconds for id_, each in movements.items() if each.longest_hold_seconds}
    assert longest == {"stretch_palm_up_soft": 20}
    assert "Stay 20 seconds at most." in movements["stretch_palm_up_soft"].how


@pytest.mark.parametrize(
    ("id_", "line", "fault"),
    [
        ("palm_up", "longest_hold_seconds = 20", ("longest_hold_seconds", "unknown_key")),
        ("stretch_palm_up", "longest_hold_seconds = 5", ("longest_hold_seconds", "out_of_range")),
        ("stretch_palm_up", 'longest_hold_seconds = "long"', ("longest_hold_seconds", "not_a_number")),
        ("stretch_palm_down", 'leave_out = ""', ("leave_out", "not_a_text")),
    ],
)
def test_a_longest_hold_or_a_word_to_leave_out_that_cannot_be_is_a_fault(tmp_path, id_, line, fault):
    path = tmp_path / f"{id_}.toml"
    path.write_text(
        f"{line}\n{(content_dir() / 'movements' / path.name).read_text(encoding='utf-8')}", encoding="utf-8"
    )
    with pytest.raises(NotAcceptedError) as caught:
        read_movement(path, tuple(the_shelf().sources))
    assert fault in {(each.key, each.code) for each in caught.value.faults}


def test_no_sentence_promises_or_names_a_disease():
    pattern = re.compile(
        r"\b(?:cure[sd]?|heals?|guarantee|tendinitis|tendinopathy|epicondyl\w+|diagnos\w+)\b", re.IGNORECASE
    )
    folder = content_dir()
    texts = [*folder.glob("movements/*.toml"), *folder.glob("routines/*.toml"), folder / "warnings.toml"]
    found = [path.name for path in texts if pattern.search(path.read_text(encoding="utf-8"))]
    assert not found


def test_every_level_of_warning_has_signs_and_says_what_to_do():
    shelf = the_shelf()
    assert {sign.level for sign in shelf.warnings} == set(LEVELS)
    assert len({sign.id for sign in shelf.warnings}) == len(shelf.warnings)
    assert "your local emergency number" in shelf.to_do["emergency"]
    assert "your local emergency number" in shelf.caution.short


SIGNS = {
    "emergency": "chest* stroke* misshapen* cold_hand* no_movement* tight*",
    "same_day": "hot_swollen swollen_arm recent_injury open_wound pop_or_tear weaker_or_number lump_after_cancer cord* "
    "floxacin*",
    "soon": "new_tingling night_pain weight_loss* small_joints neck locks lump injection",
    "ask_first": "age pregnancy surgery blood_thinners cancer_history swelling_arm inflamed_joints thin_bones diabetes "
    "heart",
}
"""The list by level; a star marks a sign of the whole body."""


@pytest.mark.parametrize("level", LEVELS)
def test_each_warning_sign_has_its_level_and_those_of_the_whole_body_say_so(level):
    signs = [sign for sign in the_shelf().warnings if sign.level == level]
    assert [sign.id + "*" * sign.is_whole for sign in signs] == SIGNS[level].split()
    assert {sign.holds for sign in signs} == {level != "ask_first"}


@pytest.mark.parametrize("sign", ["heart", "inflamed_joints", "cord", "injection"])
def test_the_level_of_a_warning_sign_is_found_by_its_id(sign):
    level = the_shelf().level_of(sign)
    assert level is not None
    assert sign in SIGNS[level].replace("*", "").split()


def test_a_warning_sign_that_is_not_on_the_list_has_no_level():
    assert the_shelf().level_of("unnamed") is None


def test_an_emergency_says_first_what_to_do_and_then_that_the_phone_does_not_ring():
    shelf = the_shelf()
    assert shelf.to_do["emergency"].startswith("Ring your local emergency number now.")
    assert shelf.to_know["emergency"] == "This phone does not call anybody."


@pytest.mark.parametrize(
    ("id_", "words"),
    [
        ("stroke", "Even if it has passed"),
        ("misshapen", "bone shows through a wound"),
        ("cold_hand", "does not get warm again"),
        ("hot_swollen", "With or without fever"),
        ("weaker_or_number", "cannot straighten the fingers"),
        ("night_pain", "does not get less when you move or change position"),
    ],
)
def test_a_warning_sign_says_what_it_must_not_leave_out(id_, words):
    assert words in next(sign.text for sign in the_shelf().warnings if sign.id == id_)


def test_a_number_from_memory_says_so():
    memory = {key for key, source in the_shelf().sources.items() if source.mark == "memory"}
    assert {"drillis-contini-1966", "screening-memory"} <= memory

"""Loads, ranges and doses as a person reads them."""

import pytest

from webapp.dosing.cue_sheet import Step
from webapp.dosing.dose import Dose, DoseSet, Hold
from webapp.words import (
    Spoken,
    dose_summary,
    load_text,
    minutes_text,
    number_text,
    pseudo_words,
    range_text,
    step_words,
    words_for,
)

ENGLISH = words_for("en")
POUNDS = ({"value": 0, "unit": "lb"}, {"value": 1, "unit": "lb"}, {"value": 2.5, "unit": "lb"})
NAMES = {"palm_down": "Palm down"}
SPOKEN = {"palm_down": Spoken("Palm down", "Palm down, forearm on the thigh.", "Lay the forearm down.")}


def one_set(reps=12, load_kg=0.0, share=1.0):
    return DoseSet("palm_down", "extension", reps, load_kg, share, 4.79)


@pytest.mark.parametrize(
    ("load_kg", "weights", "said"),
    [
        (0.0, (), "no weight"),
        (0.0, POUNDS, "no weight"),
        (0.4536, POUNDS, "1 lb"),
        (1.134, POUNDS, "2½ lb"),
        (0.5, ({"value": 0.5, "unit": "kg"},), "½ kg"),
        (0.5, POUNDS, "½ kg"),
        (1.75, (), "1¾ kg"),
        (0.4536, (), "0.45 kg"),
    ],
)
def test_a_load_is_named_in_the_unit_it_was_entered_in(load_kg, weights, said):
    assert load_text(ENGLISH, load_kg, weights) == said


@pytest.mark.parametrize(
    ("value", "said"), [(0, "0"), (12, "12"), (0.25, "¼"), (2.5, "2½"), (4.786, "4.79"), (1200, "1,200")]
)
def test_a_number_is_written_as_a_person_would(value, said):
    assert number_text(ENGLISH, value) == said


def test_a_range_and_minutes_have_words():
    assert range_text(ENGLISH, 0.75) == "three quarters of the range"
    assert minutes_text(ENGLISH, 1) == "about 1 minute"
    assert minutes_text(ENGLISH, 8) == "about 8 minutes"


def test_a_training_day_is_told_line_by_line():
    dose = Dose("training", 2, (), (one_set(9, 0.5, 0.75),), (Hold("palm_down", 40),), 4.0)
    assert dose_summary(ENGLISH, dose, NAMES, (), 7) == (
        "2 short sessions today, with some hours between them, about 7 minutes each.",
        "Palm down: 9 times, ½ kg",
        "Move through three quarters of the range only.",
    )


@pytest.mark.parametrize("mode", ["resting", "held"])
def test_a_day_without_exercise_is_told_in_one_line(mode):
    (line,) = dose_summary(ENGLISH, Dose(mode), NAMES)
    assert "o exercises" in line


def test_a_set_says_what_how_often_and_with_what():
    said = step_words(ENGLISH, Step("reps", "palm_down", 60, 12, 2, 3, 0.5, 0.4536), SPOKEN, POUNDS)
    assert said.name == "Palm down"
    assert said.cue == "Palm down: 12 times, 1 lb."
    assert said.hint == "Palm down, forearm on the thigh. Only half of the range."


def test_a_rest_says_what_comes_next():
    said = step_words(ENGLISH, Step("rest", "palm_down", 20, load_kg=0.5), SPOKEN)
    assert (said.name, said.cue, said.hint) == ("Rest", "Next: Palm down, ½ kg.", "Lay the forearm down.")


@pytest.mark.parametrize("kind", ["prepare", "warm_up", "reps", "rest", "hold", "done"])
def test_no_part_of_a_step_is_outside_the_catalogue(kind):
    bracketed = {"palm_down": Spoken("[Palm down]", "[Palm down, so.]", "[Lay it down.]")}
    said = step_words(pseudo_words(), Step(kind, "palm_down", 40, 3, 2, 3, 0.5, 0.5), bracketed)
    assert all(text.startswith("[") and text.endswith("]") for text in (said.name, said.cue, said.hint))

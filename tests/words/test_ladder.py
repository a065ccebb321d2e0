"""What is said of a jump between two weights: why it is one, and weights that do bridge it."""

import re

import pytest

from tests.cast import BELL_FOUNDER, POUND_KG
from webapp.library.routine import starter
from webapp.sync.bundle.bundle import prescribed
from webapp.words import words_for
from webapp.words.ladder import ladder_notes

ENGLISH = words_for("en")
STEP_KG = 0.01


def plan_of(*weights_kg, **tuning):
    """The bell founder's plan with these weights, in kilograms, and these tunings."""
    routine = starter("outer_elbow")
    settings = {**BELL_FOUNDER.settings, "weights_kg": [0, *weights_kg], "weights": []}
    return prescribed({**routine, "tuning": {**routine["tuning"], **tuning}}, settings, 1).plan


def said_of(plan):
    return " ".join(ladder_notes(ENGLISH, plan, ()))


def range_said(plan, unit):
    """The lower and the upper end of the bridging range, as the sentence gives them in a unit."""
    found = re.search(rf"(\d[\d.½]*)(?: to ([\d.½]+))? {unit}\b", said_of(plan).partition("A weight of")[2])
    return [float(end.replace("½", ".5")) for end in (found[1], found[2] or found[1])]


def is_climbed(plan):
    return not plan.ladder.jumps


@pytest.mark.walk
@pytest.mark.parametrize(
    "heavy_kg", [pytest.param(1, marks=pytest.mark.long), pytest.param(1.5, marks=pytest.mark.long), 2, 2.2]
)
def test_every_weight_of_the_range_that_is_named_bridges_the_jump(heavy_kg):
    low, high = range_said(plan_of(heavy_kg), "kg")
    steps = range(round(low / STEP_KG), round(high / STEP_KG) + 1)
    assert len(steps) > 1
    assert all(is_climbed(plan_of(step * STEP_KG, heavy_kg)) for step in steps)


@pytest.mark.parametrize("heavy_kg", [1, 1.5, 2, 2.2])
def test_a_weight_just_outside_the_range_does_not(heavy_kg):
    low, high = range_said(plan_of(heavy_kg), "kg")
    assert not is_climbed(plan_of(low - STEP_KG, heavy_kg))
    assert not is_climbed(plan_of(high + STEP_KG, heavy_kg))


@pytest.mark.parametrize("heavy_kg", [1, 1.5, 2, 2.2])
def test_both_ends_of_the_range_in_pounds_bridge_the_jump_too(heavy_kg):
    assert all(is_climbed(plan_of(end * POUND_KG, heavy_kg)) for end in range_said(plan_of(heavy_kg), "lb"))


def test_a_range_that_is_one_weight_in_pounds_names_it_once():
    assert "A weight of 0.7 to 0.74 kg in between bridges it (1.6 lb)." in said_of(plan_of(2.2))


@pytest.mark.parametrize(("heavy_kg", "is_named"), [(1, True), (1.5, True), (2.2, False)])
def test_half_a_litre_of_water_is_named_only_where_half_a_kilogram_bridges(heavy_kg, is_named):
    assert ("½ l of water" in said_of(plan_of(heavy_kg))) is is_named
    assert is_climbed(plan_of(0.5, heavy_kg)) is is_named


def test_too_few_reps_are_named_with_the_least_allowed():
    assert "2 kg could begin with at most 4 reps. That is under the fewest reps, 8." in said_of(plan_of(2))


def test_where_no_whole_number_of_reps_fits_that_is_said():
    assert "No whole number of reps with 1 kg keeps the step in work between 0 and 10 per cent." in said_of(plan_of(1))


def test_where_no_single_weight_bridges_that_is_said():
    assert "No single weight in between bridges it" in said_of(plan_of(2.4, goal_reps=12))


def test_a_jump_that_was_taken_on_is_climbed_and_said_so():
    plan = plan_of(2, accepted_jumps_kg=[2])
    assert "The practitioner accepts the jump, so the ladder goes on above it." in said_of(plan)
    assert plan.ladder.rung(plan.ladder.top).load_kg == 2


def test_the_columns_are_explained_and_the_first_week_only_where_there_is_one():
    assert "First week: sessions a day" in said_of(plan_of(0.5))
    assert "First week" not in said_of(plan_of(0.5, first_week_sessions=1))

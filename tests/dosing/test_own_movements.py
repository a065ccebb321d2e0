"""Own movements in the core: the tempo of their sets, and the share of the counted work that they lift."""

from dataclasses import replace
from math import isclose, radians, sin

import pytest

from webapp.dosing import cue_sheet
from webapp.dosing.body import ARC_DEGREES
from webapp.dosing.dose import dose
from webapp.dosing.faults import faults_of_routine
from webapp.dosing.own_movements import ARCS, lifted_share
from webapp.dosing.plan import make_plan, start_state
from webapp.dosing.settings import DIRECTION_OF, Body, Client, OwnLift, Routine

CLIENT = Client(Body(70, 1.75, "male"))
WHOLE = {name: ARC_DEGREES[direction] for name, direction in DIRECTION_OF.items()}


def plan_with(*own):
    return make_plan(Routine("Own", "outer_elbow", own=own), CLIENT)


def sheet_of(plan):
    return cue_sheet.write(plan, dose(plan, start_state(plan)))


def test_an_own_lift_keeps_its_own_tempo_and_the_others_keep_the_routine_s():
    steps = {
        each.movement: each for each in sheet_of(plan_with(OwnLift("palm_up", 3, 6, 35, 55))) if each.kind == "reps"
    }
    assert (steps["palm_up"].up_seconds, steps["palm_up"].down_seconds) == (3, 6)
    assert steps["palm_up"].seconds == steps["palm_up"].reps * 9
    assert (steps["palm_down"].up_seconds, steps["palm_down"].down_seconds) == (2, 3)


def test_the_rules_count_an_own_lift_as_the_lift_whose_place_it_takes():
    plain, own = plan_with(), plan_with(OwnLift("palm_down", 2, 3, 28, 18))
    assert own.ladder == plain.ladder
    assert dose(own, start_state(own)) == dose(plain, start_state(plain))


def test_what_is_really_lifted_is_the_sum_of_the_sines_of_the_arcs():
    plan = plan_with(OwnLift("palm_down", 2, 3, 28, 18))
    sets = {each.movement: each for each in dose(plan, start_state(plan)).sets}

    def sines(movement, below, above):
        return sets[movement].reps * (sin(radians(below)) + sin(radians(above)))

    counted = sum(sines(name, *arc) for name, arc in WHOLE.items())
    lifted = counted - sines("palm_down", *WHOLE["palm_down"]) + sines("palm_down", 18, 28)
    assert isclose(lifted_share(plan, start_state(plan)), lifted / counted)
    assert lifted_share(plan_with(), start_state(plan_with())) == 1


@pytest.mark.parametrize("movement", DIRECTION_OF)
def test_no_allowed_arc_lifts_more_than_is_counted(movement):
    below, above = WHOLE[movement]
    bounds = ARCS[movement]
    assert (bounds["arc_up"].high, bounds["arc_down"].high) == (above, below)
    widest = plan_with(OwnLift(movement, 2, 3, above, below))
    smallest = plan_with(OwnLift(movement, 2, 3, bounds["arc_up"].low, bounds["arc_down"].low))
    at = start_state(widest)
    assert isclose(lifted_share(widest, at), 1)
    assert 0.5 < lifted_share(smallest, at) < 1
    # An eased arm lifts a smaller part of both.
    assert 0.5 < lifted_share(smallest, at._replace(ease=2)) < 1


def test_a_pace_beyond_the_core_s_bounds_is_a_fault():
    found = faults_of_routine(replace(Routine("Own", "wrist"), own=(OwnLift("palm_up", 0.5, 9, 35, 55),)))
    assert [(fault.field, fault.code) for fault in found] == [
        ("up_seconds", "out_of_range"),
        ("down_seconds", "out_of_range"),
    ]

"""The drawn movements and the core's: every movement has its picture, and a drawn hand turns as far as the core weighs it."""

import pytest

from webapp.dosing.body import arc_degrees
from webapp.dosing.own_movements import ARCS
from webapp.library.shelf import the_shelf

DRAWN = """async (load) => {
  const { drawnFor, drawnMovements } = await load("pure/drawing/drawn_movements.js");
  return Object.fromEntries(drawnMovements().map((name) => [name, drawnFor(name)]));
}"""
WAYS = {"lift": {"lift"}, "stretch": {"stretch"}, "warm_up": {"fingers", "circle"}}


@pytest.fixture
def drawn(ask):
    return ask(DRAWN)


def test_every_movement_has_a_picture_of_its_kind(drawn):
    movements = the_shelf().movements
    assert set(drawn) == set(movements)
    assert all(drawn[name]["way"] in WAYS[movement.kind] for name, movement in movements.items())


def test_a_drawn_lift_turns_as_far_as_the_core_weighs_it(drawn):
    lifts = {name: movement for name, movement in the_shelf().movements.items() if movement.kind == "lift"}
    arcs = {name: (drawn[name]["down"], drawn[name]["up"]) for name in lifts}
    assert arcs == {name: arc_degrees(movement.direction) for name, movement in lifts.items()}
    # Gripped range: 35 degrees of flexion, 55 of extension (gripped-flexion-2015); side to side 20 and 30 (aaos-motion).
    assert sorted({degrees for arc in arcs.values() for degrees in arc}) == [20, 30, 35, 55]


def test_an_own_movement_is_drawn_no_wider_than_the_shipped_one(drawn):
    assert set(ARCS) == set(drawn)
    most = {name: {end: bound.high for end, bound in ends.items()} for name, ends in ARCS.items()}
    shown = {name: {"arc_up": drawn[name]["up"], "arc_down": drawn[name]["down"]} for name in drawn}
    assert most == {name: {end: shown[name][end] for end in ends} for name, ends in ARCS.items()}

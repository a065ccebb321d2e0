"""A name means one thing: no two classes of the program share one."""

import ast
from collections import defaultdict

from tests.rules.tree import file_name, files, parsed

WIRE = "webapp/wire/"
# What goes over the wire, written down under the name of the value that it carries: the scripts know it by that name.
ON_THE_WIRE = {
    "Almanac", "Anchor", "Cues", "Dose", "DoseSet", "Habit", "Hold", "LinkOffer", "Movement", "Result", "Starts", "Step", "WarmUp",
}  # fmt: skip


def _places(trees: dict[str, ast.Module]) -> dict[str, list[str]]:
    """Where the classes of each name stand."""
    places = defaultdict(list)
    for name, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef):
                places[node.name].append(f"{name}:{node.lineno}")
    return places


def _twice(trees: dict[str, ast.Module]) -> dict[str, list[str]]:
    return {name: where for name, where in _places(trees).items() if len(where) > 1}


def _of_the_program() -> dict[str, ast.Module]:
    return {file_name(path): parsed(path) for path in files(".py", under="webapp/")}


def test_the_walk_finds_a_class_name_that_stands_twice():
    trees = {"a.py": ast.parse("class Day: ..."), "b.py": ast.parse("class Rest:\n    class Day: ...")}
    assert _twice(trees) == {"Day": ["a.py:1", "b.py:2"]}


def test_no_two_classes_of_the_program_have_one_name():
    trees = _of_the_program()
    inside = {name: tree for name, tree in trees.items() if not name.startswith(WIRE)}
    on_the_wire = {name: tree for name, tree in trees.items() if name.startswith(WIRE)}
    assert not _twice(inside)
    assert not _twice(on_the_wire)


def test_only_what_the_wire_carries_stands_there_under_the_same_name():
    assert set(_twice(_of_the_program())) == ON_THE_WIRE

"""A name says its thing: `event`, `reply` or `row`, never a bare `one`, `told` or `place`.

Some rooms still have such names. `LEFT` holds a ceiling for each of them, which may only fall.
"""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.rules.tree import file_name, files, parsed

BARE = {"one", "told", "place"}
MORE_BARE = BARE | {"given", "asked", "what"}
"""In the plain rooms and folders these are no names either."""
PLAIN_ROOMS = (
    "bench", "client", "dosing", "events", "forecast", "library", "practice", "rulebook", "serving", "words",
)  # fmt: skip
LEFT = {"records": 14, "sync": 86, "wire": 0}
"""For each other room, the most of `BARE` that it may bind as names. Lower a number when names went; never raise one."""
PLAIN_FOLDERS = ("demo", "tests/cli", "tests/client", "tests/hostile", "tests/practice")
DEFINITIONS = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)


def _names_bound(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield (line, name) wherever a syntax tree gives a name to something: imports, too, where they rename."""
    for node in ast.walk(tree):
        if isinstance(node, DEFINITIONS):
            yield node.lineno, node.name
        elif isinstance(node, ast.arg):
            yield node.lineno, node.arg
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.lineno, node.id
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            yield node.lineno, node.attr
        elif (isinstance(node, (ast.MatchAs, ast.MatchStar)) and node.name) or (
            isinstance(node, ast.ExceptHandler) and node.name
        ):
            yield node.lineno, node.name
        elif isinstance(node, ast.alias) and node.asname:
            yield 0, node.asname


def _bare_names(paths: list[Path], bare: set[str]) -> list[str]:
    return [
        f"{file_name(path)}:{line} {name}"
        for path in paths
        for line, name in _names_bound(parsed(path))
        if name in bare
    ]


@pytest.mark.parametrize("folder", [*(f"webapp/{room}" for room in PLAIN_ROOMS), *PLAIN_FOLDERS])
def test_no_bare_word_is_a_name_in(folder):
    paths = files(".py", under=f"{folder}/")
    assert paths, "the folder is there"
    assert not _bare_names(paths, MORE_BARE)


def test_no_bare_word_is_a_name_in_a_module_beside_the_rooms():
    paths = [path for path in files(".py", under="webapp/") if file_name(path).count("/") == 1]
    assert {"webapp/app.py", "webapp/cli.py", "webapp/guard.py"} <= {file_name(path) for path in paths}
    assert not _bare_names(paths, MORE_BARE)


@pytest.mark.parametrize("room", LEFT)
def test_the_bare_names_of_a_room_only_get_fewer(room):
    found = _bare_names(files(".py", under=f"webapp/{room}/"), BARE)
    assert len(found) <= LEFT[room], f"{len(found)} bare names, {LEFT[room]} are left: name the things ({found})"


def test_every_room_is_in_one_of_the_lists():
    rooms = {file_name(path).split("/")[1] for path in files(".py", under="webapp/") if file_name(path).count("/") > 1}
    assert rooms == {*PLAIN_ROOMS, *LEFT}


def test_every_way_to_bind_a_name_is_seen():
    source = (
        "import os as one\n"
        "def told(one, *, place): pass\n"
        "class place: told: int = 1\n"
        "place.one = [told for told in ()]\n"
        "try: pass\nexcept OSError as told: pass\n"
        "match 1:\n    case one: pass\n    case [*place]: pass\n"
    )
    seen = Counter(name for _, name in _names_bound(ast.parse(source)) if name in BARE)
    assert seen == {"one": 4, "told": 4, "place": 3}

"""A name says its thing: `event`, `reply` or `row`, never a bare `one`, `told`, `place`, `given`, `asked` or `what`."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.rules.tree import file_name, files, parsed

BARE = {"one", "told", "place", "given", "asked", "what"}
FOLDERS = (".tools", "demo", "e2e", "tests", "webapp")
FIELDS_ON_THE_WIRE = {"webapp/wire/day.py what", "webapp/wire/sessions.py what", "webapp/wire/sync.py asked"}
"""Keys of the JSON between phone and server, which the structs there must have as they are."""
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


def _bare_names(paths: list[Path]) -> list[str]:
    return [
        f"{file_name(path)}:{line} {name}"
        for path in paths
        for line, name in _names_bound(parsed(path))
        if name in BARE and f"{file_name(path)} {name}" not in FIELDS_ON_THE_WIRE
    ]


@pytest.mark.parametrize("folder", FOLDERS)
def test_no_bare_word_is_a_name_in(folder):
    paths = list(files(".py", under=f"{folder}/"))
    assert paths, "the folder is there"
    assert not _bare_names(paths)


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

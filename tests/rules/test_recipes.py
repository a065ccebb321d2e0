"""The recipes in DEVELOPERS.md ("How to add …") name only paths, modules and names that are there."""

import re

import pytest

from tests.rules.tree import ROOT, file_name, project_files

HEAD = "## How to add …"
HOMES = ("", "webapp/", "pwa_assets/")
"""Where a path of a recipe may begin."""
LEAST_SHARED = 3
"""A file name without a folder, such as page.js, stands for a file that so many folders have."""
MARK = re.compile(r"`([^`]+)`(?: \(`([^`]+)`)?")
COMMAND = "python -m "
PATH = re.compile(r"/|\.(?:py|js|html|toml|css)$")


def recipes(text):
    """Return the text of each recipe by what it adds, as in {"a movement": "a file in …"}."""
    section = text.partition(HEAD)[2].partition("\n## ")[0]
    parts = re.split(r"^- \*\*(.+?)\*\*: ", section, flags=re.MULTILINE)[1:]
    return dict(zip(parts[::2], map(_on_one_line, parts[1::2]), strict=True))


def _on_one_line(text):
    return " ".join(text.split())


def faults(recipe):
    """List what a recipe names and the tree has not."""
    return [fault for mark, file in MARK.findall(recipe) for fault in _faults(mark, file)]


def _faults(mark, file):
    if mark.startswith(COMMAND):
        yield from [] if _is_command(mark.removeprefix(COMMAND)) else [f"{mark}: no such command"]
    elif PATH.search(mark) or mark in FOLDERS:
        yield from _faults_of_path(mark)
    elif not file:
        yield f"{mark}: say behind it, in brackets, which file has it"
    elif not any(_has_name(path, mark) for path in _found(file)):
        yield f"{mark}: not in {file}"
    if file:
        yield from _faults_of_path(file)


def _faults_of_path(mark):
    found = _found(mark)
    if not found:
        yield f"{mark}: no such path"
    elif len(found) > 1 and "*" not in mark and not _is_shared(mark, found):
        yield f"{mark}: may be any of {', '.join(map(file_name, found))}"


def _is_shared(mark, found):
    return "/" not in mark and len(found) >= LEAST_SHARED


def _found(mark):
    """Return the files and folders that a path may mean; a name in angle brackets stands for any, so its folder must be there."""
    mark = mark.partition("<")[0].rstrip("/")
    found = [path for home in HOMES for path in ROOT.glob(home + mark) if path in TREE]
    return found or ([] if "/" in mark else [path for path in project_files() if path.name == mark])


def _is_command(module):
    path = ROOT / f"{module.replace('.', '/')}.py"
    return path in TREE and 'if __name__ == "__main__":' in path.read_text(encoding="utf-8")


def _has_name(path, name):
    """Whether a file binds a name: a constant, a class, a function, a field, or the key of a table."""
    bound = rf'^\s*(?:export )?(?:class |def |const |function )?"?{re.escape(name)}"?\s*[:(=]'
    return path.is_file() and bool(re.search(bound, path.read_text(encoding="utf-8"), re.MULTILINE))


TREE = {part for path in project_files() for part in (path, *path.parents)}
FOLDERS = {"templates"}
RECIPES = recipes((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))


def test_the_recipes_are_read_one_by_one():
    text = (
        f"{HEAD}\n\nBefore.\n\n- **a day**: a row\n  in `x`.\n- **a week**: a line.\n\n## Next\n\n- **a year**: none.\n"
    )
    assert recipes(text) == {"a day": "a row in `x`.", "a week": "a line."}


@pytest.mark.parametrize(
    ("recipe", "fault"),
    [
        ("a row in `dosing/gone.py`", "dosing/gone.py: no such path"),
        ("a file in `content/gone/`", "content/gone/: no such path"),
        ("`content/gone/<tag>.po`", "content/gone/<tag>.po: no such path"),
        ("a story in `tests/dosing/gone_*.py`", "tests/dosing/gone_*.py: no such path"),
        ("a line in `gone.py`", "gone.py: no such path"),
        ("then `python -m tests.vectors.gone`", "python -m tests.vectors.gone: no such command"),
        ("then `python -m tests.builders`", "python -m tests.builders: no such command"),
        ("a row in `RULES` of the core", "RULES: say behind it, in brackets, which file has it"),
        ("a row in `RULES` (`dosing/moves.py`)", "RULES: not in dosing/moves.py"),
        ("a row in `RULES` (`dosing/gone.py`, with its moves)", "RULES: not in dosing/gone.py"),
    ],
)
def test_what_is_not_there_is_told(recipe, fault):
    assert fault in faults(recipe)


def test_what_is_there_is_let_pass():
    assert not faults(
        "a row in `RULES` (`dosing/rules.py`, with its moves), `page.js`; `python -m tests.vectors.write`"
    )


def test_no_recipe_has_lost_its_heading():
    assert {"a movement", "a rule", "a finding", "a language", "an event kind", "a setting", "a column"} <= set(RECIPES)


@pytest.mark.parametrize("added", RECIPES)
def test_every_path_command_and_name_of_a_recipe_is_there(added):
    assert not faults(RECIPES[added])

"""The map in DEVELOPERS.md names every folder of the subjects, and every folder that it names is there."""

import re

import pytest

from tests.rules.tree import ROOT, project_files

NAME = re.compile(r"`([^`]+)`")
HEAD = "| subject |"
CORRIDORS = ("webapp/practice", "pwa_assets", "webapp/templates")


def folders_of_map(text):
    """The folders that the map names, by corridor: the corridors stand in its head, one a column after the first."""
    lines = text[text.index(HEAD) :].split("\n\n")[0].splitlines()
    head, _, *rows = ([cell.strip() for cell in line.strip("|").split("|")] for line in lines)
    corridors = [NAME.search(cell)[1] for cell in head[1:]]
    return {
        corridor: {name for row in rows for name in NAME.findall(row[column])}
        for column, corridor in enumerate(corridors, start=1)
    }


def folders_under(root):
    """The folders below one that hold a file of the project themselves."""
    parents = (path.parent for path in project_files())
    return {each.relative_to(ROOT / root).as_posix() for each in parents if ROOT / root in each.parents}


MAP = folders_of_map((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))


def test_the_map_is_read_column_by_column():
    read = folders_of_map(
        "| subject | a: `one` | b: `two` |\n| --- | --- | --- |\n| day | `x` `y` | – |\n\nThe end `z`."
    )
    assert read == {"one": {"x", "y"}, "two": set()}


def test_the_map_has_the_three_corridors():
    assert tuple(MAP) == CORRIDORS


@pytest.mark.parametrize("corridor", CORRIDORS)
def test_every_folder_of_a_corridor_is_on_the_map(corridor):
    assert not folders_under(corridor) - MAP[corridor]


@pytest.mark.parametrize("corridor", CORRIDORS)
def test_every_folder_on_the_map_is_there(corridor):
    assert not MAP[corridor] - folders_under(corridor)


def test_the_tests_of_the_desk_have_the_folders_of_the_desk():
    assert folders_under("tests/practice") == MAP["webapp/practice"]

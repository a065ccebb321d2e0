"""Functions and files stay small enough to read in one look."""

import statistics

import pytest

from tests.rules.tree import code_lines, file_name, files, functions, parsed

LONGEST_FUNCTION = 40
MOST_FUNCTIONS_UNDER = 25
MEDIAN_FUNCTION = 8
WALLS = {"webapp": 250, "demo": 250, ".tools": 250, "tests": 300, "e2e": 300}
TEMPLATE_WALL = 90
STYLE_SHEET_WALL = 120
SCRIPT_WALL = 250


def _lengths(under: str) -> dict[str, int]:
    return {
        f"{file_name(path)}:{function.lineno} {function.name}": code_lines(function)
        for path in files(".py", under=under)
        for function in functions(parsed(path))
    }


def _over(paths: list, wall: int) -> list[str]:
    counted = {file_name(path): len(path.read_text(encoding="utf-8").splitlines()) for path in paths}
    return [f"{name}: {lines} lines, the wall is {wall}" for name, lines in counted.items() if lines > wall]


def test_no_function_is_over_forty_lines():
    long = {name: lines for name, lines in _lengths("").items() if lines > LONGEST_FUNCTION}
    assert not long


def test_nine_functions_in_ten_are_under_twenty_five_lines():
    lengths = sorted(_lengths("webapp").values())
    assert lengths[int(len(lengths) * 0.9)] < MOST_FUNCTIONS_UNDER


def test_the_middle_function_has_eight_lines_or_fewer():
    assert statistics.median(_lengths("webapp").values()) <= MEDIAN_FUNCTION


@pytest.mark.parametrize("folder", sorted(WALLS))
def test_no_python_file_is_over_its_wall(folder):
    assert not _over(files(".py", under=f"{folder}/"), WALLS[folder])


def test_no_template_is_over_its_wall():
    assert not _over(files(".html", under="webapp/templates/"), TEMPLATE_WALL)


def test_no_style_sheet_is_over_its_wall():
    assert not _over(files(".css"), STYLE_SHEET_WALL)


def test_no_script_is_over_its_wall():
    assert not _over(files(".js", ".mjs"), SCRIPT_WALL)

"""The top level holds what it should and nothing else, and no module has a name that says nothing."""

import re

from tests.rules.tree import ROOT, file_name, files, project_files

SHOWN = {"README.md", "DEVELOPERS.md", "pyproject.toml", "webapp", "pwa_assets", "content", "tests", "e2e", "demo"}
HIDDEN = {".ci", ".tools", ".gitignore", ".gitattributes", ".editorconfig"}
EMPTY_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "manager", "handler", "handlers", "data", "info"}


def _top_level() -> set[str]:
    return {path.relative_to(ROOT).parts[0] for path in project_files()}


def test_the_top_level_is_exactly_what_the_design_lists():
    assert {name for name in _top_level() if not name.startswith(".")} == SHOWN


def test_nothing_hidden_stands_at_the_top_level_but_tools_and_settings():
    assert {name for name in _top_level() if name.startswith(".")} <= HIDDEN


def test_no_module_has_a_name_that_says_nothing():
    names = [file_name(path) for path in files(".py", ".js", ".mjs") if path.stem in EMPTY_NAMES]
    assert not names


def test_no_folder_has_a_name_that_says_nothing():
    folders = {
        file_name(path.parent) for path in project_files() if EMPTY_NAMES & set(path.relative_to(ROOT).parts[:-1])
    }
    assert not folders


def test_file_names_are_lower_case_words():
    plain = re.compile(r"^[a-z0-9_.]+$")
    odd = [file_name(path) for path in files(".py", ".js", ".css", ".html") if not plain.match(path.name)]
    assert not odd

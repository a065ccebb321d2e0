"""A run fails where it leaves a file in the tree that git does not know, and says which file, and what to do."""

import subprocess
import sys

import pytest

from tests.rules.tree import ROOT

sys.path.insert(0, str(ROOT / ".tools"))
from left_behind import left_behind, unknown_to_git


@pytest.fixture
def tree(tmp_path):
    """A checkout with a file that git ignores, and one that git does not know yet."""
    subprocess.run(["git", "init", "-q", tmp_path], check=True)
    (tmp_path / ".gitignore").write_text("*.log\n")
    (tmp_path / "mine.txt").write_text("begun before the run")
    return tmp_path


def test_a_new_file_fails_and_is_named(tree, capsys):
    before = unknown_to_git(tree)
    (tree / "folder").mkdir()
    (tree / "folder" / "left.toml").write_text("")
    outcome, said = left_behind(before, tree), capsys.readouterr().out
    assert (outcome.failed, outcome.is_good) == (1, False)
    assert "folder/left.toml" in said
    assert "mine.txt" not in said


def test_what_was_there_what_is_changed_and_what_git_ignores_are_nothing(tree, capsys):
    before = unknown_to_git(tree)
    (tree / "mine.txt").write_text("and gone on with meanwhile")
    (tree / "run.log").write_text("")
    assert left_behind(before, tree).failed == 0
    assert capsys.readouterr().out == ""


def test_in_a_folder_that_is_no_checkout_nothing_is_found(tmp_path):
    (tmp_path / "left.toml").write_text("")
    assert unknown_to_git(tmp_path) == frozenset()

"""What a run leaves in the tree: files that git does not know, and that were not there when the run began.

Knows git; the standard library only. Where git is missing, or the tree is no checkout, nothing is found.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

from steps import Outcome

ROOT = Path(__file__).resolve().parent.parent


def unknown_to_git(root: Path = ROOT) -> frozenset[str]:
    """Return the paths of the files of a tree that git neither tracks nor ignores."""
    command = ["git", "ls-files", "--others", "--exclude-standard", "-z"]
    try:
        listed = subprocess.run(command, check=False, cwd=root, capture_output=True, text=True, timeout=60)
    except FileNotFoundError:
        return frozenset()
    return frozenset(filter(None, listed.stdout.split("\0")))


def left_behind(before: frozenset[str], root: Path = ROOT) -> Outcome:
    """Name each file that is new since `before`, and count it as a failure."""
    new = sorted(unknown_to_git(root) - before)
    if new:
        print("\nNew since this run began, and unknown to git:", *new, sep="\n  ")
        print(
            "If a test wrote a file, let it write into its own folder (the fixture tmp_path), and delete the file. "
            "If you made it yourself meanwhile, nothing is wrong: run again."
        )
    return Outcome(failed=len(new))

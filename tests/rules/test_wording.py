"""The project speaks of itself alone, and no file leans on the machine it was written on."""

import re

import pytest

from tests.rules.tree import file_name, files

TEXTS = (".py", ".js", ".mjs", ".css", ".html", ".md", ".toml", ".json", ".csv", ".po", ".webmanifest", "")
OWN = "tests/rules/test_wording.py"
STRANGE = {
    "a path of one machine": r"/(?:work|farm|home/\w+|Users/\w+|root)/|(?<![\w.])/tmp/",
    "a package registry's host": r"pypi\.org|files\.pythonhosted|registry\.npmjs|deb\.debian|npmjs\.com",
    "a number of a task": r"\bissue #?\d+|\bticket #?\d+",
    "a tool that writes text": r"\blanguage model|\bAI assistant|\btranscript\b",
    "something left to do": r"\b(?:TODO|FIXME|XXX|HACK)\b",
    "a promise to heal": r"\bguarantee[sd]? (?:to|that|you)|\bwill cure\b|\bcures? your\b",
}


@pytest.mark.parametrize("fault", sorted(STRANGE))
def test_no_file_holds(fault):
    pattern = re.compile(STRANGE[fault], re.IGNORECASE if fault != "something left to do" else 0)
    found = [
        f"{file_name(path)}:{number} {line.strip()[:100]}"
        for path in files(*TEXTS)
        if file_name(path) != OWN
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]
    assert not found


def test_the_lock_file_names_no_registry():
    lock = next(path for path in files(".json") if path.name == "package-lock.json")
    assert '"resolved"' not in lock.read_text(encoding="utf-8")


def test_style_sheets_speak_of_start_and_end_not_of_left_and_right():
    sided = re.compile(
        r"(?:^|[\s;{])(?:(?:margin|padding|border|inset)-)?(?:left|right)(?:-[a-z]+)?\s*:|text-align:\s*(?:left|right)\b"
    )
    found = [
        f"{file_name(path)}:{number} {line.strip()}"
        for path in files(".css")
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if sided.search(line)
    ]
    assert not found

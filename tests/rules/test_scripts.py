"""What the browser code must not do: hold a sentence, build markup from strings, reach across rooms."""

import posixpath
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.rules.tree import file_name, files, literals, without_comments

WORD = re.compile(r"^[A-Za-z][A-Za-z’'-]*[.,:;!?]?$")
FOR_DEVELOPERS = re.compile(r"(?:Error|Exception)\(\s*$|^\s*throw\b|\bthrow new \w+\(")
MARKUP = re.compile(r"\.(innerHTML|outerHTML)\b|insertAdjacentHTML|document\.write|createContextualFragment|DOMParser")
IMPORT = re.compile(r"^\s*(?:import\s+|(?:import|export)\b[^;'\"=]*\bfrom\s+)['\"]([^'\"]+)['\"]", re.MULTILINE)
SCREEN = re.compile(r"^export function start\(", re.MULTILINE)
SCRIPTS = "pwa_assets/js"
# From the outside in: a script may import of its own subject and of those further in, and every subject may import of pure.
SUBJECTS_SEEN = (
    "about",
    "settings",
    "handbook",
    "movement",
    "weeks",
    "playing",
    "returning",
    "day",
    "arriving",
    "morning",
    "joining",
    "warnings",
    "session",
    "letters",
    "dose",
    "drawing",
    "parts",
)
PURE_SUBJECTS = (
    "weeks",
    "session",
    "drawing",
    "arriving",
    "playing",
    "returning",
    "settings",
    "dose",
    "handbook",
    "letters",
    "joining",
    "sync",
    "calendar",
)
EDGE_SUBJECTS = ("storage", "network", "sound", "screen")


def _scripts(under: str = "") -> list:
    return files(".js", under=f"pwa_assets/{under}")


def _is_sentence(text: str) -> bool:
    words = re.sub(r"\$\{[^}]*\}", "", text).replace(" ,", "").split()
    return len(words) > 1 and all(WORD.match(word) for word in words)


@pytest.mark.parametrize("text", ["Saved on this phone", "Not sent yet.", "Hello ${name}, well done"])
def test_the_rule_knows_a_sentence_when_it_sees_one(text):
    assert _is_sentence(text)


@pytest.mark.parametrize(
    "text", ["same-origin", "[data-word] p", "./almanac.js", "M 0 0 L 10 10", "${x} ${y}", "settled"]
)
def test_the_rule_lets_names_and_paths_be(text):
    assert not _is_sentence(text)


def test_no_script_holds_a_sentence():
    held = [
        f"{file_name(path)}:{literal.line} {literal.text!r}"
        for path in _scripts()
        for literal in literals(path.read_text(encoding="utf-8"))
        if _is_sentence(literal.text) and not FOR_DEVELOPERS.search(literal.before)
    ]
    assert not held


def test_no_script_builds_markup_from_strings():
    built = [
        f"{file_name(path)}:{number}"
        for path in _scripts()
        for number, line in enumerate(without_comments(path.read_text(encoding="utf-8")).splitlines(), start=1)
        if MARKUP.search(line)
    ]
    assert not built


def _imported(path: Path) -> list[str]:
    """The project's paths of what a script imports, types in comments apart."""
    names = IMPORT.findall(without_comments(path.read_text(encoding="utf-8")))
    return [posixpath.normpath(posixpath.join(posixpath.dirname(file_name(path)), name)) for name in names]


def _arrows(under: str = "") -> list[tuple[str, str]]:
    return [(file_name(path), name) for path in _scripts(under) for name in _imported(path)]


def _subject(name: str, room: str = SCRIPTS) -> str:
    """The folder of a room that a script lies in; empty for one beside the folders, and for one of another room."""
    found = re.match(rf"{room}/(\w+)/", name)
    return found[1] if found else ""


def _strange(arrows: list[tuple[str, str]], is_allowed: Callable[[str, str], bool]) -> list[str]:
    return [f"{script} imports {name}" for script, name in arrows if not is_allowed(script, name)]


def test_each_folder_of_the_scripts_has_its_place_in_the_order():
    assert {_subject(file_name(path)) for path in _scripts("js/")} == {*SUBJECTS_SEEN, "pure", "edges", ""}
    assert {_subject(file_name(path), f"{SCRIPTS}/pure") for path in _scripts("js/pure/")} == set(PURE_SUBJECTS)
    assert {_subject(file_name(path), f"{SCRIPTS}/edges") for path in _scripts("js/edges/")} == {*EDGE_SUBJECTS, ""}


def test_pure_scripts_import_pure_ones_of_their_own_subject_or_further_in():
    room = f"{SCRIPTS}/pure"

    def is_inward(script: str, name: str) -> bool:
        subject = _subject(name, room)
        return subject in PURE_SUBJECTS[PURE_SUBJECTS.index(_subject(script, room)) :]

    assert not _strange(_arrows("js/pure/"), is_inward)


def test_edges_import_pure_scripts_and_of_edges_their_own_subject_and_what_stands_beside_the_subjects():
    room = f"{SCRIPTS}/edges"

    def is_inward(script: str, name: str) -> bool:
        is_own = name.startswith(f"{room}/") and _subject(name, room) in {_subject(script, room), ""}
        return is_own or name.startswith(f"{SCRIPTS}/pure/")

    assert not _strange(_arrows("js/edges/"), is_inward)


def test_what_is_seen_imports_pure_scripts_its_own_subject_and_those_further_in_and_gets_its_edges_handed():
    def is_inward(script: str, name: str) -> bool:
        return _subject(name) in ("pure", *SUBJECTS_SEEN[SUBJECTS_SEEN.index(_subject(script)) :])

    seen = [arrow for subject in SUBJECTS_SEEN for arrow in _arrows(f"js/{subject}/")]
    assert len(seen) > 50
    assert not _strange(seen, is_inward)


def test_a_screen_is_imported_by_the_list_of_all_screens_alone():
    screens = {file_name(path) for path in _scripts("js/") if SCREEN.search(path.read_text(encoding="utf-8"))}
    assert len(screens) > 5
    assert not _strange(_arrows(), lambda script, name: name not in screens or script == f"{SCRIPTS}/screens.js")


def test_no_script_that_a_phone_carries_imports_from_under_another_roof():
    assert not _strange(_arrows("js/"), lambda _, name: name.startswith(f"{SCRIPTS}/"))


def test_no_circle_of_scripts_and_none_of_subjects():
    """A circle between two folders is one too; the arrows of `main.js`, which imports all, end nowhere."""
    assert not _circle([("a", "b"), ("b", "c")])
    assert _circle([("a", "b"), ("b", "c"), ("c", "b")]) == {"b", "c"}
    arrows = _arrows()
    assert not _circle(arrows)
    folders = [(posixpath.dirname(script), posixpath.dirname(name)) for script, name in arrows]
    assert not _circle([(folder, other) for folder, other in folders if folder != other])


def _circle(arrows: list[tuple[str, str]]) -> set[str]:
    """All that lies on a circle or between two: what is left when names that nothing leads from, or to, are taken away."""
    left = set(arrows)
    while True:
        froms, to = {folder for folder, _ in left}, {other for _, other in left}
        kept = {(folder, other) for folder, other in left if other in froms and folder in to}
        if kept == left:
            return {name for arrow in left for name in arrow}
        left = kept


def test_every_import_is_relative_and_names_its_extension():
    odd = [
        f"{file_name(path)} imports {name}"
        for path in _scripts()
        for name in IMPORT.findall(without_comments(path.read_text(encoding="utf-8")))
        if not (name.startswith(".") and name.endswith(".js"))
    ]
    assert not odd

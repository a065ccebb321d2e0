"""What the browser code must not do: hold a sentence, build markup from strings, reach across rooms."""

import re

import pytest

from tests.rules.tree import files, literals, told, without_comments

WORD = re.compile(r"^[A-Za-z][A-Za-z’'-]*[.,:;!?]?$")
FOR_DEVELOPERS = re.compile(r"(?:Error|Exception)\(\s*$|^\s*throw\b|\bthrow new \w+\(")
MARKUP = re.compile(r"\.(innerHTML|outerHTML)\b|insertAdjacentHTML|document\.write|createContextualFragment|DOMParser")
IMPORT = re.compile(r"^\s*(?:import\s+|(?:import|export)\b[^;'\"=]*\bfrom\s+)['\"]([^'\"]+)['\"]", re.MULTILINE)
ROOMS_MAY_IMPORT = {
    "pure": {"pure"},
    "edges": {"pure", "edges"},
    "parts": {"pure", "parts"},
    "screens": {"pure", "parts"},
}


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
        f"{told(path)}:{literal.line} {literal.text!r}"
        for path in _scripts()
        for literal in literals(path.read_text(encoding="utf-8"))
        if _is_sentence(literal.text) and not FOR_DEVELOPERS.search(literal.before)
    ]
    assert not held


def test_no_script_builds_markup_from_strings():
    built = [
        f"{told(path)}:{number}"
        for path in _scripts()
        for number, line in enumerate(without_comments(path.read_text(encoding="utf-8")).splitlines(), start=1)
        if MARKUP.search(line)
    ]
    assert not built


@pytest.mark.parametrize("room", sorted(ROOMS_MAY_IMPORT))
def test_rooms_of_the_browser_code_point_inwards(room):
    strange = [
        f"{told(path)} imports {name}"
        for path in _scripts(f"js/{room}/")
        for name in IMPORT.findall(without_comments(path.read_text(encoding="utf-8")))
        if _room_of(name, room) not in ROOMS_MAY_IMPORT[room] or (room == "screens" and name.startswith("./"))
    ]
    assert not strange


def test_every_import_is_relative_and_names_its_extension():
    odd = [
        f"{told(path)} imports {name}"
        for path in _scripts()
        for name in IMPORT.findall(without_comments(path.read_text(encoding="utf-8")))
        if not (name.startswith(".") and name.endswith(".js"))
    ]
    assert not odd


def _room_of(name: str, own: str) -> str:
    found = re.match(r"\.\./([a-z]+)/", name)
    return found[1] if found else own

"""The two pure rooms, and their counterpart in the browser, touch nothing outside themselves."""

import ast
import re
import sys
from collections.abc import Iterator

from tests.rules.tree import file_name, files, parsed, without_comments

PURE_ROOMS = ("webapp/dosing/", "webapp/events/")
ALLOWED_ROOMS = {"webapp/dosing/": ("webapp.dosing", "webapp.events"), "webapp/events/": ("webapp.events",)}
CLOCKS = {
    f"{kind}.{word}" for kind in ("datetime", "date", "time") for word in ("now", "today", "utcnow", "fromtimestamp")
}
DOORS = {"open", "print", "input", "eval", "exec", "__import__"}
IMPURE_SCRIPT = re.compile(
    r"\b(document|window|localStorage|sessionStorage|indexedDB|navigator|fetch\(|new Date\(\)|Date\.now|performance\.|"
    r"Math\.random|crypto\.|setTimeout|setInterval|requestAnimationFrame)"
)


def _imports(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield "." * node.level + (node.module or "")


def _is_allowed(name: str, room: str) -> bool:
    own = any(name == allowed or name.startswith(f"{allowed}.") for allowed in ALLOWED_ROOMS[room])
    return own or name.split(".", maxsplit=1)[0] in sys.stdlib_module_names


def test_dosing_and_events_import_the_standard_library_and_each_other_only():
    strange = [
        f"{file_name(path)} imports {name}"
        for room in PURE_ROOMS
        for path in files(".py", under=room)
        for name in _imports(parsed(path))
        if not _is_allowed(name, room)
    ]
    assert not strange


def test_dosing_and_events_ask_no_clock():
    clocks_read = [
        f"{file_name(path)}:{node.lineno} {node.attr}"
        for room in PURE_ROOMS
        for path in files(".py", under=room)
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Attribute) and ".".join(ast.unparse(node).split(".")[-2:]) in CLOCKS
    ]
    assert not clocks_read


def test_dosing_and_events_open_nothing_and_print_nothing():
    called = [
        f"{file_name(path)}:{node.lineno} {node.func.id}"
        for room in PURE_ROOMS
        for path in files(".py", under=room)
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in DOORS
    ]
    assert not called


def test_pure_scripts_touch_no_page_no_network_no_clock_and_no_dice():
    touched = [
        f"{file_name(path)}:{number} {found[0]}"
        for path in files(".js", under="pwa_assets/js/pure/")
        for number, line in enumerate(without_comments(path.read_text(encoding="utf-8")).splitlines(), start=1)
        if (found := IMPURE_SCRIPT.search(line))
    ]
    assert not touched

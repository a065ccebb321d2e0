"""Scripts keep the walls of the Python: a name says its thing, and a function is short enough to read in one look.

The names and functions come from TypeScript's own parser, in Node: see `tests/js/parsed.js`.
"""

import json
import os
import shutil
import statistics
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.rules.test_bare_names import BARE
from tests.rules.test_sizes import LONGEST_FUNCTION, MEDIAN_FUNCTION, MOST_FUNCTIONS_UNDER
from tests.rules.tree import ROOT, file_name, files

SETTINGS = tuple(ROOT / ".tools" / name for name in ("tsconfig.json", "tsconfig.worker.json", "tsconfig.tests.json"))
PARSE_SECONDS = 60


@dataclass(frozen=True)
class Bound:
    """A name that a script binds, with the lines of its function; None for what is no function, or is one expression."""

    file: str
    line: int
    name: str
    lines: int | None

    def __str__(self) -> str:
        return f"{self.file}:{self.line} {self.name}"


@cache
def _bound(*settings: Path) -> tuple[Bound, ...]:
    """Return every name that the scripts of some settings files bind."""
    node = os.environ.get("NODE") or shutil.which("node")
    assert node, "no Node: start the rules with python3 tests/run.py lint, which finds or installs one"
    run = [node, ROOT / "tests/js/parsed.js", *settings]
    done = subprocess.run(run, check=False, capture_output=True, encoding="utf-8", timeout=PARSE_SECONDS)
    assert done.returncode == 0, done.stderr
    return tuple(Bound(**entry) for entry in json.loads(done.stdout))


def _bare(bound: tuple[Bound, ...]) -> list[str]:
    return [str(each) for each in bound if each.name in BARE]


def _lengths(bound: tuple[Bound, ...], under: str = "") -> dict[str, int]:
    folder = str(ROOT / under)
    return {str(each): each.lines for each in bound if each.lines is not None and each.file.startswith(folder)}


def test_every_script_is_parsed():
    scripts = {file_name(path) for folder in ("pwa_assets/", "tests/js/") for path in files(".js", under=folder)}
    assert {Path(each.file).relative_to(ROOT).as_posix() for each in _bound(*SETTINGS)} >= scripts


def test_no_bare_word_is_a_name_in_a_script():
    assert not _bare(_bound(*SETTINGS))


def test_no_function_of_a_script_is_over_forty_lines():
    assert not {name: lines for name, lines in _lengths(_bound(*SETTINGS)).items() if lines > LONGEST_FUNCTION}


def test_nine_functions_of_the_scripts_in_ten_are_under_twenty_five_lines():
    lengths = sorted(_lengths(_bound(*SETTINGS), "pwa_assets").values())
    assert lengths[int(len(lengths) * 0.9)] < MOST_FUNCTIONS_UNDER


def test_the_middle_function_of_the_scripts_has_eight_lines_or_fewer():
    assert statistics.median(_lengths(_bound(*SETTINGS), "pwa_assets").values()) <= MEDIAN_FUNCTION


def test_every_way_to_bind_a_name_in_a_script_is_seen(tmp_path):
    source = (
        'import { a as one } from "./other.js";\n'
        "export function told(place, { given, b: [asked] }, ...what) {\n  return place;\n}\n"
        "class Told { #place = 1; one() {\n    return one;\n  } }\n"
        "for (const told of []) told((one) => one);\n"
        "try { told(); } catch (given) { given; }\n"
    )
    (tmp_path / "script.js").write_text(source, encoding="utf-8")
    settings = tmp_path / "tsconfig.json"
    settings.write_text('{"compilerOptions": {"allowJs": true}, "include": ["*.js"]}', encoding="utf-8")
    bound = _bound(settings)
    names = sorted(each.name for each in bound if each.name in BARE)
    assert names == sorted(["one"] * 3 + ["told"] * 2 + ["place"] * 2 + ["given"] * 2 + ["asked", "what"])
    assert sorted(_lengths(bound, str(tmp_path)).values()) == [3, 3]

"""Runs Halfturn's checks by one word each, on a machine that has python3 and nothing else.

    python3 tests/run.py            all: every test, then every browser story
    python3 tests/run.py quick      those of what decides, keeps and says, which answer within a minute
    python3 tests/run.py test       the tests without a browser
    python3 tests/run.py e2e        the browser stories
    python3 tests/run.py long       the long trials, which the tests leave out
    python3 tests/run.py lint       style, types, room borders, the tests about the code, the JavaScript checks
    python3 tests/run.py format     rewrites Python, JavaScript and CSS in the house style
    python3 tests/run.py types      the type checkers alone
    python3 tests/run.py words      collects the sentences to translate, and brings every language's file up to date

What follows the word goes to pytest: python3 tests/run.py test -k sync. Exit code 0: all passed; 1: something failed, or a file
that git does not know was left in the tree; 2: this machine lacks something, said in one sentence; 130: stopped by Ctrl-C.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / ".tools"))

import chromium
import javascript
from environment import SetupError, prepare
from left_behind import left_behind, unknown_to_git
from steps import Outcome, Step, pytest_outcome, run_steps

if TYPE_CHECKING:
    from collections.abc import Sequence

QUICK = [f"tests/{room}" for room in ("events", "dosing", "records", "library", "sync", "client", "words", "js")]
QUICK_SECONDS = 600
TEST_SECONDS = 1500
E2E_SECONDS = 2400
LONG_SECONDS = 2400
LONGEST_STORY_SECONDS = 1200
CHECK_SECONDS = 600
SIDE_BY_SIDE = 2


def main(arguments: list[str]) -> int:
    """Run the word asked for, or all, and say how it went in one plain line."""
    word, rest = (arguments[0], arguments[1:]) if arguments else ("all", [])
    if word not in WORDS:
        print(__doc__)
        return 0 if word in {"-h", "--help", "help"} else 2
    began, before = time.monotonic(), unknown_to_git()
    try:
        outcome = WORDS[word](rest) + left_behind(before)
    except SetupError as lacking:
        print(f"\n{lacking}")
        return 2
    except KeyboardInterrupt:
        print("\nStopped.")
        return 130
    print(f"\n{word} took {time.monotonic() - began:.0f} s\n{word}: {outcome}", flush=True)
    return 0 if outcome.is_good else 1


def every_test(rest: list[str]) -> Outcome:
    """Run the tests, then the browser stories; the stories run even where a test failed."""
    return tests(rest) + stories(rest)


def tests(rest: list[str]) -> Outcome:
    """Run everything that needs no browser but the long trials; the scripts' own tests run in the Node found or installed."""
    return _without_a_browser("not long", rest, TEST_SECONDS)


def quick(rest: list[str]) -> Outcome:
    """Run the tests of what decides, keeps and says, but for walks through every state and cases that are drawn."""
    return _without_a_browser("not long and not drawn and not walk", rest, QUICK_SECONDS, QUICK)


def long_trials(rest: list[str]) -> Outcome:
    """Run the trials that take minutes each, those in the browser last, and at the very end, alone, what measures time."""
    without = _without_a_browser("long or drawn", rest, LONG_SECONDS, is_at_length=True)
    patient = ["-o", f"faulthandler_timeout={LONGEST_STORY_SECONDS}", *rest]
    return without + _stories("long and not alone", patient) + _stories("alone", patient, side_by_side=1)


def _without_a_browser(
    marked: str, rest: list[str], seconds: int, folders: Sequence[str] = ("tests",), *, is_at_length: bool = False
) -> Outcome:
    python = prepare(["test"])
    environ = {**os.environ, "TESTS_AT_LENGTH": str(int(is_at_length)), "NODE": str(_node(python))}
    return _pytest(python, [*folders, "-m", marked, "-n", str(SIDE_BY_SIDE), *rest], environ, seconds)


def stories(rest: list[str]) -> Outcome:
    """Run the browser stories but the long ones and those that are measured."""
    return _stories("not alone and not long", rest)


def _stories(marked: str, rest: list[str], side_by_side: int = SIDE_BY_SIDE) -> Outcome:
    """Run stories in the Chromium that is found or installed."""
    python = prepare(["test"])
    browser = chromium.find(python)
    print(f"Browser stories in {browser}", flush=True)
    environ = {**os.environ, "CHROMIUM_PATH": str(browser)}
    beside = ["-n", str(side_by_side)] if side_by_side > 1 else []
    return _pytest(python, ["e2e", "-m", marked, *beside, *rest], environ, E2E_SECONDS)


def lint(_rest: list[str]) -> Outcome:
    """Check style, types, room borders and the rules about the code; every step runs, whatever failed before."""
    python = prepare(["test", "lint"])
    return run_steps([*_python_style(python), *_python_types(python), *_javascript(python)], CHECK_SECONDS)


def types(_rest: list[str]) -> Outcome:
    """Run the type checkers of both languages."""
    python = prepare(["test", "lint"])
    return run_steps([*_python_types(python), *_javascript_types(_node(python))], CHECK_SECONDS)


def rewrite(_rest: list[str]) -> Outcome:
    """Put Python, JavaScript and CSS into the house style."""
    python = prepare(["test", "lint"])
    biome = [_node(python), javascript.BIOME, "check", "--write", f"--config-path={javascript.STYLE}"]
    steps = [
        Step("sort imports", [python, "-m", "ruff", "check", "--select", "I", "--fix", "--quiet", "."]),
        Step("format Python", [python, "-m", "ruff", "format", "."]),
        Step("format JavaScript and CSS", [*biome, *javascript.CHECKED]),
    ]
    return run_steps(steps, CHECK_SECONDS)


def words(_rest: list[str]) -> Outcome:
    """Collect every sentence into content/locale, and bring the files of the languages up to date."""
    done = subprocess.run([prepare(["test"]), "-m", "tests.words.collect"], check=False, cwd=ROOT)
    return Outcome(passed=int(done.returncode == 0), failed=int(done.returncode != 0))


def _pytest(python: Path, arguments: list[str], environ: dict[str, str], seconds: int) -> Outcome:
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.xml"
        command = [python, "-m", "pytest", "-q", f"--junitxml={report}", *arguments]
        return pytest_outcome(Step("pytest", command, {**environ, **_compiled_once(python)}), report, seconds)


def _compiled_once(python: Path) -> dict[str, str]:
    """Keep what Python compiles in its own environment's folder: dozens of processes of a run load the same files."""
    return {"PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(python.parent.parent / "compiled")}


def _python_style(python: Path) -> list[Step]:
    environ = {**os.environ, "NODE": str(_node(python))}
    return [
        Step("style of the Python", [python, "-m", "ruff", "check", "."]),
        Step("format of the Python", [python, "-m", "ruff", "format", "--check", "."]),
        Step("borders between the rooms", [python.with_name("lint-imports"), "--no-cache"]),
        Step("rules about the code", [python, "-m", "pytest", "-q", "-m", "not long", "tests/rules"], environ),
        Step("the wheel serves by itself", [python, javascript.TOOLS / "check_wheel.py"]),
    ]


def _python_types(python: Path) -> list[Step]:
    return [Step("types of the Python", [python, "-m", "mypy", "--no-incremental"])]


def _javascript(python: Path) -> list[Step]:
    node = _node(python)
    biome = [node, javascript.BIOME, "check", "--error-on-warnings", f"--config-path={javascript.STYLE}"]
    return [Step("style of the JavaScript and CSS", [*biome, *javascript.CHECKED]), *_javascript_types(node)]


def _javascript_types(node: Path) -> list[Step]:
    check = [node, javascript.TYPESCRIPT, "--project"]
    return [
        Step("types of the JavaScript", [*check, javascript.TOOLS / "tsconfig.json"]),
        Step("types of the service worker", [*check, javascript.TOOLS / "tsconfig.worker.json"]),
        Step("types of the scripts' tests", [*check, javascript.TOOLS / "tsconfig.tests.json"]),
    ]


def _node(python: Path) -> Path:
    node = javascript.node_path(python)
    javascript.install(node)
    return node


WORDS = {
    "all": every_test,
    "quick": quick,
    "test": tests,
    "e2e": stories,
    "long": long_trials,
    "lint": lint,
    "format": rewrite,
    "types": types,
    "words": words,
}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

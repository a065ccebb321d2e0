"""Node and the phone's scripts, for tests that compare the phone with the core. test_packed.py compares the packed scripts."""

import json
import os
import shutil
import subprocess
from collections.abc import Callable
from typing import Any

import pytest

from webapp.packing import sources_dir

ANSWER_SECONDS = 60
# The function gets its modules by name from `load` and everything else as JSON.
CALL = """
import {{ readFileSync }} from "node:fs";
const load = {load};
const answer = {function};
const values = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(await answer(load, values)));
"""


@pytest.fixture(scope="session")
def node() -> str:
    """The Node of these tests: tests/run.py passes its path in NODE; a pytest that was started by hand finds it on PATH."""
    found = os.environ.get("NODE") or shutil.which("node")
    assert found, "no Node: start these tests with python3 tests/run.py test, which finds or installs one"
    return found


@pytest.fixture(scope="session")
def ask(node: str) -> Callable[..., Any]:
    """Calls a function of JavaScript, `async (load, values) => result`, among the phone's scripts."""

    def call(function: str, **arguments: Any) -> Any:
        folder = json.dumps(f"{(sources_dir() / 'js').as_uri()}/")
        return answer_of(node, CALL.format(load=f"(path) => import({folder} + path)", function=function), arguments)

    return call


def answer_of(node: str, script: str, arguments: dict[str, Any]) -> Any:
    """Run a module in Node; it reads JSON and writes JSON."""
    run = [node, "--input-type=module", "--eval", script]
    done = subprocess.run(
        run, check=False, input=json.dumps(arguments), capture_output=True, encoding="utf-8", timeout=ANSWER_SECONDS
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)

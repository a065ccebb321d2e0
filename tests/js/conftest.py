"""Node, and the phone's scripts as they are served, for tests that hold the phone to the core."""

import json
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from webapp.client.assets import read_assets
from webapp.config import assets_dir

ANSWER_SECONDS = 60
# The function gets its modules by name from `load` and everything else from `given`; both sides speak JSON.
CALL = """
import {{ readFileSync }} from "node:fs";
const load = (path) => import({folder} + path);
const asked = {function};
const given = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(await asked(load, given)));
"""


@pytest.fixture(scope="session")
def node() -> str:
    """The Node of these tests; tests/run.py names one, a hand-started pytest finds one on PATH."""
    found = os.environ.get("NODE") or shutil.which("node")
    assert found, "no Node: start these tests with python3 tests/run.py test, which finds or installs one"
    return found


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every script that a phone carries, byte for byte as it is served."""
    folder = tmp_path_factory.mktemp("served")
    assets = read_assets(assets_dir())
    for name in assets.carried():
        if name.endswith(".js"):
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(assets.files[name].body)
    (folder / "package.json").write_text('{"type": "module"}', encoding="utf-8")
    return folder / "js"


@pytest.fixture(scope="session")
def ask(node: str, served: Path) -> Callable[..., Any]:
    """Calls a function of JavaScript, `async (load, given) => answer`, among the served scripts."""

    def call(function: str, **given: Any) -> Any:
        script = CALL.format(folder=json.dumps(f"{served.as_uri()}/"), function=function)
        run = [node, "--input-type=module", "--eval", script]
        done = subprocess.run(
            run, check=False, input=json.dumps(given), capture_output=True, encoding="utf-8", timeout=ANSWER_SECONDS
        )
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return call

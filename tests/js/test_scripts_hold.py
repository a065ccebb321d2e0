"""The scripts' own tests, beside this file: one run of Node for each file of them."""

import re
import subprocess

import pytest

from tests.rules.tree import ROOT, file_name, files

RUN_SECONDS = 60
# Node reads a script with an import as a module. It warns because the scripts have no package.json; they need none.
QUIET = "--disable-warning=MODULE_TYPELESS_PACKAGE_JSON"
PASSED = re.compile(r"^# pass (\d+)$", re.MULTILINE)


def the_tests():
    return [path for path in files(".js", under="tests/js/") if path.name.endswith(".test.js")]


@pytest.mark.parametrize("path", the_tests(), ids=file_name)
def test_every_test_of_a_script_passes(node, path):
    run = [node, QUIET, "--test-reporter=tap", path]
    done = subprocess.run(run, check=False, cwd=ROOT, capture_output=True, encoding="utf-8", timeout=RUN_SECONDS)
    passed = PASSED.search(done.stdout)
    assert done.returncode == 0, done.stdout + done.stderr
    assert passed is not None
    assert int(passed[1]) > 0

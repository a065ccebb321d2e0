"""The core against the golden files that the phone's look-up is held to as well (see tests/vectors)."""

import pytest

from tests.vectors.write import FOLDER, texts


@pytest.mark.parametrize("name", ["courses.json", "cubes.json", "session.json"])
def test_the_core_decides_what_the_golden_files_say(name):
    assert (FOLDER / name).read_text(encoding="utf-8") == texts()[name]

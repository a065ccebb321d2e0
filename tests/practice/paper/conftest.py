"""The bell founder's case at the desk, with his routine on paper."""

import pytest

from tests.cast import FIRST_DAY


@pytest.fixture
def path(site):
    return f"/practice/cases/{site.founder.public_id}"


@pytest.fixture
def out(site, hedda, path):
    """The bell founder's routine, handed out on paper a week ago."""
    hedda.open(f"{path}/sheet")
    entries = hedda.form().to_dict() | {"sheet_from": FIRST_DAY.isoformat(), "sheet_signs": "yes"}
    assert hedda.send(f"{path}/sheet", entries, follow=True).status_code == 200
    return site.founder

"""Two clients of one practitioner, in an empty database."""

import pytest

from tests.builders import enrol, hire
from tests.cast import BELL_FOUNDER, CELLIST, HEDDA


@pytest.fixture
def hedda(db):
    return hire(db, HEDDA)


@pytest.fixture
def ansgar(db, hedda):
    return enrol(db, hedda.id, BELL_FOUNDER)


@pytest.fixture
def isaura(db, hedda):
    return enrol(db, hedda.id, CELLIST)

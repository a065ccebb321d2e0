"""Fixtures that more than one room needs."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.builders import empty_records
from webapp.records.database import Database

# The same examples in every run, so that a failure can be looked at again; no deadline on a shared machine.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


@pytest.fixture
def db_path(tmp_path: Path) -> Path:
    """Where this test's database lies."""
    return tmp_path / "halfturn.db"


@pytest.fixture
def db(db_path: Path) -> Iterator[Database]:
    """An empty database with every table."""
    records = empty_records(db_path)
    yield records
    records.conn.close()

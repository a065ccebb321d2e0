"""Fixtures that more than one room needs."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from flask import Flask
from hypothesis import HealthCheck, settings

from tests.builders import empty_records
from tests.compiled import COMPILED
from webapp.records.database import Database

# The same examples in every run, so that a failure can be looked at again; no deadline on a shared machine.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")
Flask.jinja_options = {"bytecode_cache": COMPILED}


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


@pytest.fixture
def counted(record_property: Callable[[str, object], None]) -> Callable[[str], None]:
    """Have a line of counts shown at the end of the run, whichever process the test ran in."""
    return lambda line: record_property("counted", line)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Show every line of counts."""
    reports = terminalreporter.stats.get("passed", [])
    lines = [value for report in reports for key, value in report.user_properties if key == "counted"]
    if lines:
        terminalreporter.section("what was counted")
    for line in sorted(lines):
        terminalreporter.write_line(line)

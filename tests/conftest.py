"""Fixtures that more than one room needs."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.builders import Enrolled, empty_records, enrol, hire
from tests.cast import BELL_FOUNDER, BOOKBINDER, CELLIST, HEDDA
from tests.compiled import compile_once
from webapp.records.database import Database
from webapp.records.practitioners import Practitioner

# The same examples in every run, so that a failure can be looked at again; no deadline on a shared machine.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")
compile_once()


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
def hedda(db: Database) -> Practitioner:
    """The practitioner of this test's clients."""
    return hire(db, HEDDA)


@pytest.fixture
def ansgar(db: Database, hedda: Practitioner) -> Enrolled:
    """Hedda's client Ansgar, a bell founder, and his invitation."""
    return enrol(db, hedda.id, BELL_FOUNDER)


@pytest.fixture
def mirela(db: Database, hedda: Practitioner) -> Enrolled:
    """Hedda's client Mirela, a bookbinder, and her invitation."""
    return enrol(db, hedda.id, BOOKBINDER)


@pytest.fixture
def isaura(db: Database, hedda: Practitioner) -> Enrolled:
    """Hedda's client Isaura, a cellist, and her invitation."""
    return enrol(db, hedda.id, CELLIST)


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

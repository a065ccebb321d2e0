"""A running site with the cast in it, and visitors with a browser's behaviour: cookies, forms, tokens."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from pathlib import Path

import pytest
from flask import Flask

from tests.builders import Enrolled, days_of, enrol, event, hire, session
from tests.cast import BELL_FOUNDER, CELLIST, FIRST_DAY, HEDDA, JONAS, ORGAN_BUILDER
from tests.practice.visitor import Visitor
from webapp.app import create_app
from webapp.config import Settings
from webapp.records import devices, practitioners
from webapp.records.database import Database, open_records, write
from webapp.records.making import make_records
from webapp.records.practitioners import Practitioner
from webapp.sync.log.take import take_batch


class Clock:
    """A clock that stands still until it is moved."""

    def __init__(self, at: datetime) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at

    def pass_by(self, **time: float) -> None:
        self.at += timedelta(**time)


@dataclass
class Site:
    """The program, its clock, its records, and the people in the records."""

    app: Flask
    clock: Clock
    db: Database
    hedda: Practitioner
    founder: Enrolled
    cellist: Enrolled
    organ_builder: Enrolled

    def visitor(self) -> Visitor:
        return Visitor(self.app.test_client())

    def begin(self, client: Enrolled, events: list[dict]) -> None:
        """Let a phone of the client receive the first routine on the cast's first day, and send events."""
        self.receive(client, [event("routine_received", FIRST_DAY, {"version": 1, "bundle": ""}, seq=900), *events])

    def receive(self, client: Enrolled, events: list[dict]) -> None:
        """Let a phone of the client send events; all of them must be stored."""
        raws = [json.dumps(event).encode() for event in events]
        results = take_batch(self.db, client.id, self.join_phone(client), raws, self.clock())
        assert {result.status for result in results} == {"stored"}

    def join_phone(self, client: Enrolled, name: str = "a phone") -> str:
        with write(self.db):
            return devices.join(self.db, client.id, name, self.clock())[0]


def hold_cellist(site: Site) -> None:
    """Let the cellist train for a week, then stop a session for sharp pain, yesterday; this event has seq 50."""
    days = days_of(FIRST_DAY, [(1, 1), (2, 1)], arms=("left",))
    site.begin(site.cellist, [*days, session(date(2026, 3, 8), 9, arms=("left",), sharp=True, seq=50)])


def _people(path: Path) -> tuple[Practitioner, Enrolled, Enrolled, Enrolled]:
    db = open_records(path)
    hedda, jonas = hire(db, HEDDA), hire(db, JONAS)
    people = (enrol(db, hedda.id, BELL_FOUNDER), enrol(db, hedda.id, CELLIST), enrol(db, jonas.id, ORGAN_BUILDER))
    db.conn.close()
    return (hedda, *people)


@pytest.fixture(scope="session")
def furnished(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, tuple]:
    """A database with the cast in it. Tests copy it, because hashing passwords is slow on purpose."""
    path = tmp_path_factory.mktemp("practice") / "halfturn.db"
    make_records(path)
    return path, _people(path)


@pytest.fixture
def site(db_path: Path, furnished: tuple[Path, tuple]) -> Iterator[Site]:
    """Hedda with the bell founder and the cellist, Jonas with the organ builder."""
    path, people = furnished
    kept = open_records(path)
    kept.execute("VACUUM INTO ?", [str(db_path)])
    kept.conn.close()
    clock = Clock(datetime(2026, 3, 9, 9, 30, tzinfo=UTC))
    app = create_app(Settings(db=db_path), clock)
    db = open_records(db_path)
    yield Site(app, clock, db, *people)
    db.conn.close()


@pytest.fixture
def visitor(site: Site) -> Visitor:
    """A visitor who is not signed in."""
    return site.visitor()


@pytest.fixture
def hedda(site: Site) -> Visitor:
    """Hedda, signed in."""
    visitor, token = site.visitor(), "hedda-signed-in"
    digest = sha256(token.encode()).hexdigest()
    practitioners.begin_sign_in(site.db, site.hedda.id, digest, site.clock(), site.clock())
    visitor.client.set_cookie("halfturn_practice", token, domain="127.0.0.1")
    return visitor

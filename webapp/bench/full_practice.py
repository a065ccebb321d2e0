"""A practice with many clients and long logs, in this process; the speed of the server is measured with it."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime, time, timedelta
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from flask.testing import FlaskClient

from webapp.app import create_app
from webapp.bench.example import FIRST_ON, RECEIPT, entry, stored, trained
from webapp.bench.served import AREA, SETTINGS
from webapp.config import Settings
from webapp.events.returning import OPENED
from webapp.library.ladders import the_ladders
from webapp.library.routine import starter
from webapp.records import cases, devices, events, practitioners, routines
from webapp.records.database import Database, write
from webapp.records.events import NewEvent
from webapp.records.making import make_records
from webapp.sync.case.way_back import put_way, seal
from webapp.sync.folding.returning import told_ways
from webapp.sync.log.local_day import local_day, zone_of

ONE_DAY = timedelta(days=1)
EVENING = time(18, tzinfo=UTC)
OWN_SITE = {"Sec-Fetch-Site": "same-origin"}
SIGNED_IN = "bench-signed-in"
WAY_OPEN_FOR = 20 * ONE_DAY


class FullPractice:
    """One signed-in practitioner, and clients with a phone each. The clock moves only by `pass_days`.

    Attributes:
        clients: The row and the public id of each client.
    """

    def __init__(self, path: Path, clients: int, days: int) -> None:
        """Make the records in a new file: `clients` clients, each with `days` days of entries."""
        self.now = datetime.combine(FIRST_ON + timedelta(days=days), EVENING)
        self.settings = Settings(db=path)
        make_records(self.settings.db)
        self.app = create_app(self.settings, lambda: self.now)
        self.db: Database = self.app.extensions["halfturn"].db()
        self._by = practitioners.add(self.db, "Bench", "bench@halfturn.example", "-", self.now).id
        log = [stored(each) for each in trained(FIRST_ON, days)]
        self.clients = [self._enrol(number, log) for number in range(clients)]
        self._sent = RECEIPT
        self._desk, self._phone = self.app.test_client(), self.app.test_client()
        self.pass_days(0)

    def _enrol(self, number: int, stored: Sequence[NewEvent]) -> tuple[int, str]:
        # No two clients have the same plan, so that a value cached for one client serves no other.
        settings = {**SETTINGS, "mass_kg": 60 + number / 10}
        intake = {**settings, "area": AREA, "note": ""}
        case = cases.add(self.db, self._by, f"bench{number:05}", f"Client {number}", "en", intake, self.now)
        routines.push(self.db, case.id, starter(AREA), settings, "", self._by, self.now)
        with write(self.db):
            events.append(self.db, case.id, "bench", stored, self.now)
            routines.note_received(self.db, case.id, 1, FIRST_ON.isoformat(), self.now)
        return case.id, case.public_id

    def pass_days(self, days: int) -> None:
        """Let days pass, and sign the practitioner in again."""
        self.now += days * ONE_DAY
        digest = sha256(f"{SIGNED_IN}{self.now}".encode()).hexdigest()
        practitioners.begin_sign_in(self.db, self._by, digest, self.now, self.now - ONE_DAY)
        self._desk.set_cookie(self.settings.cookie("practice"), f"{SIGNED_IN}{self.now}", domain="127.0.0.1")

    def look(self, path: str = "") -> None:
        """Open a page of the desk; the caseload where no path is passed."""
        _must_be_well(self._desk.get(f"/practice{path}", headers=OWN_SITE).status_code)

    def join(self, number: int) -> "SyncingPhone":
        """Join a phone to a client, counted from 0."""
        client, public_id = self.clients[number]
        with write(self.db):
            _, token = devices.join(self.db, client, "bench", self.now)
        self._phone.set_cookie(self.settings.device_cookie, token, domain="127.0.0.1")
        return SyncingPhone(self, self._phone, public_id)

    def new_events(self, count: int, late_days: int = 0) -> list[dict[str, object]]:
        """Return morning reports that no phone has sent yet, dated `late_days` before today."""
        on = self.now.date() - late_days * ONE_DAY
        numbers = range(self._sent + 1, self._sent + 1 + count)
        self._sent += count
        body = {"arms": {"right": {"pain": 1, "sharp": False}}}
        return [entry("morning_reported", on, number, body) for number in numbers]

    def open_way(self, number: int) -> None:
        """Open a way back for a client, some weeks ago."""
        client = self.clients[number][0]
        on = local_day(self.now, zone_of(self.db, client)) - WAY_OPEN_FOR
        body = {"ladder": next(iter(the_ladders())), "step": 1, "gate": [], "reason": "-", "by": "-"}
        put_way(self.db, client, OPENED, on, body, seal(told_ways(self.db, client)), now=self.now)

    def push_to(self, number: int) -> None:
        """Push a client's routine again."""
        routines.push(self.db, self.clients[number][0], starter(AREA), SETTINGS, "again", self._by, self.now)


class SyncingPhone:
    """A phone that syncs and remembers how far it has read."""

    def __init__(self, practice: FullPractice, client: FlaskClient, public_id: str) -> None:
        """Take the client's cookie as it is."""
        self._practice, self._client = practice, client
        self._told: dict[str, Any] = {"format": 1, "client": public_id, "zone": "Europe/Lisbon", "locale": "en"}

    def sync(self, events: Sequence[Mapping[str, object]] = ()) -> None:
        """Send entries, and read all that is new."""
        more = True
        while more:
            on = self._practice.now.date().isoformat()
            request = {**self._told, "on": on, "sent_at": self._practice.now.isoformat(), "events": events}
            answer = self._client.post("/api/sync", json=request, headers=OWN_SITE)
            _must_be_well(answer.status_code)
            said = answer.get_json()
            self._told |= {"epoch": said["epoch"], "cursor": said["cursor"], "bundle": said["bundle_hash"]}
            events, more = (), said["more"]


def _must_be_well(status: int) -> None:
    if status != 200:  # noqa: PLR2004 - HTTP's own number
        raise RuntimeError(f"a measured request was answered with {status}")


@contextmanager
def full_practice(clients: int, days: int) -> Iterator[FullPractice]:
    """Make a practice in a temporary folder for as long as the context is open."""
    with TemporaryDirectory() as folder:
        practice = FullPractice(Path(folder) / "bench.db", clients, days)
        try:
            yield practice
        finally:
            practice.db.conn.close()

"""The practice behind the desk: people put into the served database, and the server's own account of them read out."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import uuid4

from e2e.server import Server
from tests.builders import Enrolled, enrol, hire, screened
from tests.cast import HEDDA, Sufferer
from webapp.dosing.dose import dose
from webapp.events.course_set import SetCourse
from webapp.library.routine import starter
from webapp.records import cases, events, invitations, routines
from webapp.records.database import Database, open_records, write
from webapp.sync.case import finishing
from webapp.sync.case import way_back as way_acts
from webapp.sync.case.told_intake import TOLD_LATER
from webapp.sync.folding import returning
from webapp.sync.folding.fold import ArmAccount, accounts_of
from webapp.sync.log import practice_events
from webapp.sync.log.take import take_batch


@dataclass
class Practice:
    """Hedda's practice in one database."""

    server: Server
    practitioner: int

    @classmethod
    def opened(cls, server: Server) -> Practice:
        """A practice with its practitioner and no client."""
        with _records(server.db_path) as db:
            return cls(server, hire(db, HEDDA, datetime.now(UTC)).id)

    def enrol(self, client: Sufferer) -> Enrolled:
        """Take a client on who has answered the safety questions: intake, first routine pushed, invitation link made."""
        enrolled, now = self.enrol_unasked(client), datetime.now(UTC)
        with _records(self.server.db_path) as db:
            answered = screened(now.date(), id=str(uuid4()))
            take_batch(db, enrolled.id, "an earlier phone", [json.dumps(answered).encode()], now)
        return enrolled

    def enrol_unasked(self, client: Sufferer) -> Enrolled:
        """Take a client on whose phone has still to ask the safety questions."""
        with _records(self.server.db_path) as db:
            return enrol(db, self.practitioner, client, datetime.now(UTC))

    def enrol_by_name(self, name: str) -> Enrolled:
        """Take a client on of whom only the name is known: the phone asks the rest."""
        now = datetime.now(UTC)
        with _records(self.server.db_path) as db:
            case = cases.add(db, self.practitioner, "byname0001", name, "en", TOLD_LATER, now)
            return Enrolled(case.id, case.public_id, invitations.make_link(db, case.id, now).token)

    def confirm_intake(self, client: int, sufferer: Sufferer) -> None:
        """Confirm what a client told, as the desk does, and push the routine."""
        now = datetime.now(UTC)
        with _records(self.server.db_path) as db:
            with write(db):
                cases.complete(db, client, sufferer.intake)
                practice_events.put(db, client, "intake_confirmed", now.date(), {"by": HEDDA.name}, now)
            routines.push(db, client, starter(sufferer.area), sufferer.settings, "", self.practitioner, now)

    def standing(self, client: int, on: date) -> dict[str, dict]:
        """Where each arm of a client stands on a day, by the server's fold of the log."""
        return {arm: _told(account) for arm, account in self.accounts(client, on).items()}

    def accounts(self, client: int, on: date) -> dict[str, ArmAccount]:
        """What became of each arm of a client up to a day, by the server's fold of the log."""
        with _records(self.server.db_path) as db:
            return accounts_of(db, client, on)

    def send(self, client: int, *events: dict) -> None:
        """Let an earlier phone of a client send events."""
        with _records(self.server.db_path) as db:
            raws = [json.dumps(event | {"id": str(uuid4())}).encode() for event in events]
            results = take_batch(db, client, "an earlier phone", raws, datetime.now(UTC))
        assert {result.status for result in results} == {"stored"}

    def set_course(
        self,
        client: int,
        to: str,
        since: date,
        reason: str,
        days_a_week: int = 0,
        seen_again_on: date | None = None,
        until: date | None = None,
    ) -> None:
        """Set training, maintenance, a rest or the end from a day on."""
        with _records(self.server.db_path) as db:
            chosen = SetCourse(to, days_a_week, since, reason, HEDDA.name, seen_again_on, until)
            seen = finishing.seal(finishing.courses_of(db, client))
            finishing.set_course(db, client, chosen, seen, now=datetime.now(UTC))

    def open_way(self, client: int, ladder: str, since: date, step: int = 1) -> None:
        """Open a way back from a day on, as the desk does once the gate is met."""
        body = {"ladder": ladder, "step": step, "gate": [], "reason": "Calm for weeks.", "by": HEDDA.name}
        with _records(self.server.db_path) as db:
            seen = way_acts.seal(returning.told_ways(db, client))
            way_acts.put_way(db, client, "return_opened", since, body, seen, now=datetime.now(UTC))

    def way(self, client: int, on: date) -> returning.WayBack | None:
        """Where a client's way back stands on a day, by the server's fold of the log."""
        with _records(self.server.db_path) as db:
            return returning.way_back(db, client, on)

    def log(self, client: int) -> list[dict]:
        """Every event of a client as the server keeps it, in order of arrival."""
        with _records(self.server.db_path) as db:
            return [json.loads(logged.raw) for logged in events.of_client(db, client)]


def _told(account) -> dict:
    today = dose(account.plan, account.state)
    state = account.state._asdict()
    counters = {name: state[name] for name in ("rung", "ease", "mode", "settled_streak", "gap_days")}
    return {
        **counters,
        "work_j": round(today.work_j, 2),
        "sessions": today.sessions,
        "response": account.days[-1].response,
    }


@contextmanager
def _records(path: Path) -> Iterator[Database]:
    db = open_records(path)
    try:
        yield db
    finally:
        db.conn.close()

"""A client's phone in the demo: sends events as the sync endpoint takes them, and asks the core for the dose of a day."""

from __future__ import annotations

import json
import uuid
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING, Any

from webapp.dosing.dose import Dose, dose
from webapp.sync.folding.fold import accounts_of
from webapp.sync.log.take import take_batch

if TYPE_CHECKING:
    from webapp.records.database import Database

ZONE = "Europe/Lisbon"
SENDING_HOUR = 19

Draft = tuple[str, int, dict[str, Any]]


class Phone:
    """A client's phone: sends events, and counts them; nothing is sent later than `now`."""

    def __init__(self, db: Database, client: int, device: str, now: datetime) -> None:
        self.db, self.client, self.device, self.now, self.seq = db, client, device, now, 0

    def send(self, on: date, drafts: list[Draft]) -> None:
        """Send the events of one day; a refused event would be a fault of this script."""
        events = [_event(on, self.seq + index, *draft) for index, draft in enumerate(drafts, start=1)]
        self.seq += len(drafts)
        sent_at = min(self.now, datetime.combine(on, time(SENDING_HOUR), UTC))
        results = take_batch(
            self.db, self.client, self.device, [json.dumps(event).encode() for event in events], sent_at
        )
        refused = [result for result in results if result.status != "stored"]
        assert not refused, refused

    def doses_on(self, on: date) -> dict[str, Dose]:
        """Return the dose of a day for each arm that has sessions on that day."""
        accounts = accounts_of(self.db, self.client, on)
        doses = {arm: dose(account.plan, account.state) for arm, account in accounts.items()}
        return {arm: each for arm, each in doses.items() if each.sessions}


def _event(on: date, seq: int, kind: str, hour: int, body: dict[str, Any]) -> dict[str, Any]:
    at = f"{on.isoformat()}T{hour:02d}:00:00.000Z"
    return {
        "id": str(uuid.uuid4()),
        "kind": kind,
        "v": 1,
        "on": on.isoformat(),
        "at": at,
        "zone": ZONE,
        "seq": seq,
        "body": body,
    }

"""Writes events to a client's log: events of a phone, and a release by somebody who has read no report."""

import json
from collections.abc import Sequence
from datetime import date

from tests.cast import NOW
from webapp.records.database import Database, write
from webapp.sync.log import practice_events
from webapp.sync.log.take import take_batch


def put(db: Database, client: int, events: Sequence[dict]) -> None:
    """Store the events of a phone."""
    take_batch(db, client, "a phone", [json.dumps(event).encode() for event in events], NOW)


def put_release(db: Database, client: int, arm: str, on: date) -> None:
    """Store a release that covers no sharp report."""
    body = {"rung": 1, "range": 1, "covers": [], "reason": "Calm.", "by": "Hedda"}
    with write(db):
        practice_events.put(db, client, "hold_released", on, {"arms": {arm: body}}, NOW)

"""Puts entries into a client's log: those of a phone, and a release by somebody who had read nothing."""

import json
from collections.abc import Sequence
from datetime import date

from tests.cast import NOW
from webapp.records.database import Database, write
from webapp.sync import desk
from webapp.sync.take import take_batch


def put(db: Database, client: int, told: Sequence[dict]) -> None:
    """A phone's entries."""
    take_batch(db, client, "a phone", [json.dumps(one).encode() for one in told], NOW)


def put_release(db: Database, client: int, arm: str, on: date) -> None:
    """A release that covers no sharp report."""
    told = {"rung": 1, "range": 1, "covers": [], "reason": "Calm.", "by": "Hedda"}
    with write(db):
        desk.put(db, client, "hold_released", on, {"arms": {arm: told}}, NOW)

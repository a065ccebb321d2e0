"""Routines that a practitioner offers to the practice: copies under a name, which hold nothing of a client and name none."""

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records.database import Database, instant, write
from webapp.records.practices import OWNER

KEY_BYTES = 10


@dataclass(frozen=True)
class OfferedRoutine:
    """A routine that is offered.

    Attributes:
        key: Its id in addresses.
        practitioner: The key of who offered it.
        by_name: Their name.
        routine: The copy, in the form of a routine file; its title is the name under which it is offered.
        offered_at: The instant, UTC text.
        has_left: Whether who offered it works here no more.
    """

    key: str
    practitioner: int
    by_name: str
    routine: Mapping[str, Any]
    offered_at: str
    has_left: bool


def offer(db: Database, practitioner: int, routine: Mapping[str, Any], now: datetime) -> None:
    """Offer a copy to the practice; the same copy of the same practitioner is offered once.

    Args:
        db: The records.
        practitioner: Who offers it.
        routine: In the form of a routine file, without anything of a client.
        now: The instant of the call, with a zone.
    """
    written = json.dumps(routine, sort_keys=True)
    with write(db):
        db.execute(
            "INSERT INTO offered_routines (key, practitioner, routine, offered_at) SELECT ?1, ?2, ?3, ?4 WHERE NOT EXISTS"
            " (SELECT 1 FROM offered_routines WHERE practitioner = ?2 AND routine = ?3 AND withdrawn_at IS NULL)",
            (secrets.token_urlsafe(KEY_BYTES), practitioner, written, instant(now)),
        )


def of_practice(db: Database, practice: int) -> list[OfferedRoutine]:
    """List what is offered in a practice, the newest first."""
    rows = db.execute(
        "SELECT o.key, o.practitioner, p.name, o.routine, o.offered_at, p.removed_at IS NOT NULL FROM offered_routines o"
        " JOIN practitioners p ON p.id = o.practitioner WHERE p.practice = ? AND o.withdrawn_at IS NULL"
        " ORDER BY o.offered_at DESC, o.rowid DESC",
        (practice,),
    ).fetchall()
    return [
        OfferedRoutine(key, by, name, json.loads(routine), at, bool(has_left))
        for key, by, name, routine, at, has_left in rows
    ]


def withdraw(db: Database, practitioner: int, key: str, now: datetime) -> bool:
    """Take back what a practitioner offered, an owner also what somebody offered who has left; return whether that changed anything.

    Clients who follow it keep it.
    """
    with write(db):
        changed = db.execute(
            "UPDATE offered_routines SET withdrawn_at = ?1 WHERE key = ?2 AND withdrawn_at IS NULL AND practitioner IN"
            " (SELECT p.id FROM practitioners p JOIN practitioners me ON me.id = ?3 WHERE p.id = me.id"
            " OR (p.removed_at IS NOT NULL AND p.practice = me.practice AND me.role = ?4))",
            (instant(now), key, practitioner, OWNER),
        ).rowcount
    return bool(changed)

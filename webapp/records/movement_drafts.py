"""Drafts of own movements: the entries of a form that a practitioner looks at before saving. Only who made a draft reads it."""

import json
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta

from webapp.records.database import Database, instant, write

KEPT_FOR = timedelta(days=1)
KEY_BYTES = 12

Entries = Sequence[tuple[str, str]]


def keep(db: Database, practitioner: int, entries: Entries, now: datetime) -> str:
    """Keep a draft for a day, and return its key; older drafts of everybody are deleted.

    Args:
        db: The records.
        practitioner: Who made it.
        entries: The names and values of the form's fields.
        now: The instant of the call, with a zone.
    """
    key = secrets.token_urlsafe(KEY_BYTES)
    with write(db):
        db.execute("DELETE FROM movement_drafts WHERE kept_at < ?", (instant(now - KEPT_FOR),))
        db.execute(
            "INSERT INTO movement_drafts (key, practitioner, entries, kept_at) VALUES (?, ?, ?, ?)",
            (key, practitioner, json.dumps(list(entries)), instant(now)),
        )
    return key


def find(db: Database, practitioner: int, key: str) -> Entries | None:
    """Return a practitioner's own draft, or None."""
    row = db.execute(
        "SELECT entries FROM movement_drafts WHERE key = ? AND practitioner = ?", (key, practitioner)
    ).fetchone()
    return None if row is None else [(name, value) for name, value in json.loads(row[0])]

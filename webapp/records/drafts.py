"""Drafts of a routine: the entries of a form that a practitioner looks at before the push. Only who made a draft reads it."""

import json
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta

from webapp.records.database import Database, instant, write

KEPT_FOR = timedelta(days=1)
KEY_BYTES = 12

Entries = Sequence[tuple[str, str]]


def keep(db: Database, practitioner: int, client: int, entries: Entries, now: datetime) -> str:
    """Keep a draft for a day, and return its key; older drafts of everybody are deleted.

    Args:
        db: The records.
        practitioner: Who made it.
        client: The client's key.
        entries: The names and values of the form's fields.
        now: The instant of the call, with a zone.
    """
    key = secrets.token_urlsafe(KEY_BYTES)
    with write(db):
        db.execute("DELETE FROM drafts WHERE kept_at < ?", (instant(now - KEPT_FOR),))
        db.execute(
            "INSERT INTO drafts (key, practitioner, client, entries, kept_at) VALUES (?, ?, ?, ?, ?)",
            (key, practitioner, client, json.dumps(list(entries)), instant(now)),
        )
    return key


def find(db: Database, practitioner: int, client: int, key: str) -> Entries | None:
    """Return a practitioner's own draft for a client, or None."""
    row = db.execute(
        "SELECT entries FROM drafts WHERE key = ? AND practitioner = ? AND client = ?", (key, practitioner, client)
    ).fetchone()
    return None if row is None else [(name, value) for name, value in json.loads(row[0])]


def drop(db: Database, practitioner: int, client: int) -> None:
    """Delete a practitioner's drafts for a client, inside the write of a push."""
    db.execute("DELETE FROM drafts WHERE practitioner = ? AND client = ?", (practitioner, client))

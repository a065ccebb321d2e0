"""The practice's own marks in the caseload: a client was seen, and need not be looked at until a day. No phone reads them."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from webapp.records.database import Database, instant, write


@dataclass(frozen=True)
class Seen:
    """A mark.

    Attributes:
        until: The day on which the client comes back to the place in the order, ISO text.
        note: What the practitioner wrote to themselves, or "".
        causes: The stamps of the causes that were there at the mark.
        by_name: The name of who marked it.
    """

    until: str
    note: str
    causes: tuple[str, ...]
    by_name: str


def mark(db: Database, client: int, seen: Seen, now: datetime) -> None:
    """Mark a client as seen; an earlier mark is replaced."""
    with write(db):
        db.execute(
            "INSERT INTO seen (client, until, note, causes, by_name, marked_at) VALUES (?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (client) DO UPDATE SET until = excluded.until, note = excluded.note, causes = excluded.causes,"
            " by_name = excluded.by_name, marked_at = excluded.marked_at",
            (client, seen.until, seen.note, json.dumps(list(seen.causes)), seen.by_name, instant(now)),
        )


def unmark(db: Database, client: int) -> None:
    """Take a mark back."""
    with write(db):
        db.execute("DELETE FROM seen WHERE client = ?", (client,))


def of_clients(db: Database, clients: Sequence[int]) -> dict[int, Seen]:
    """Return the marks of some clients, by the client's key."""
    rows = db.execute(
        "SELECT client, until, note, causes, by_name FROM seen WHERE client IN (SELECT value FROM json_each(?))",
        (json.dumps(list(clients)),),
    ).fetchall()
    return {row[0]: Seen(row[1], row[2], tuple(json.loads(row[3])), row[4]) for row in rows}

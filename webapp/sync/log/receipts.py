"""What is known of a pushed version: the first session that was done with it."""

from datetime import date

from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log.diary import entries_of

_ALL = -1


def first_sessions(db: Database, client: int) -> dict[int, date]:
    """Return, by routine version, the day of the first session that followed it."""
    entries = entries_of(events.latest_of(db, client, ("session_finished",), _ALL))
    return {
        event.body["routine"]: event.on
        for event in sorted(entries, key=lambda event: event.on, reverse=True)
        if isinstance(event.body.get("routine"), int)
    }

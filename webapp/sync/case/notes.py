"""The notes that came with the versions of a routine, and when the client read them."""

from datetime import date

from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log.diary import entries_of

_ALL = -1


def notes_read(db: Database, client: int) -> dict[int, date]:
    """Return, by routine version, the day on which the client first read the version's note."""
    entries = entries_of(events.latest_of(db, client, ("note_read",), _ALL))
    return {event.body["version"]: event.on for event in sorted(entries, key=lambda event: event.on, reverse=True)}

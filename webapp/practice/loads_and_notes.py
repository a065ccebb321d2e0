"""What the phones say beside sessions and mornings: the loads of a day that the client marked, and the notes read."""

from datetime import date, timedelta
from typing import NamedTuple

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import EXPOSURES
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.diary import entries_of, of_phones

ONE_DAY = timedelta(days=1)
LAST_DAYS = 14
ALL = -1


class Load(NamedTuple):
    """Something else that loaded the arm: sport, lifting or a long desk day; its hours, or None where not said."""

    what: str
    hours: float | None


def loads_of(db: Database, client: int, today: date) -> list[tuple[date, list[Load]]]:
    """List what the client marked in the last fourteen days, today among them, the latest day first.

    Args:
        db: The records.
        client: Whose.
        today: The client's own local day. A mark further off than tomorrow is of a clock that stood ahead: it is left out.
    """
    first = today - (LAST_DAYS - 1) * ONE_DAY
    entries = corrected_entries(of_phones(entries_of(events.since_day(db, client, first.isoformat()))))
    marked: dict[date, dict[str, float | None]] = {}
    for event in entries:
        if event.kind == "exposure_noted" and first <= event.on <= today + ONE_DAY:
            loads, what = marked.setdefault(event.on, {}), event.body["what"]
            # Marked on two phones, a load is one load; the longer time counts.
            loads[what] = max((loads.get(what), event.body.get("hours")), key=lambda hours: hours or 0)
    return [
        (on, [Load(what, marked[on][what]) for what in EXPOSURES if what in marked[on]]) for on in sorted(marked)[::-1]
    ]


def notes_read(db: Database, client: int) -> dict[int, date]:
    """Return, by routine version, the first day on which a phone says that its note was read."""
    entries = entries_of(events.latest_of(db, client, ("note_read",), ALL))
    return {event.body["version"]: event.on for event in sorted(entries, key=lambda event: event.on, reverse=True)}

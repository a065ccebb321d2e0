"""Reads what marks a client's days from the log: sport that was done, days without the app."""

from collections.abc import Iterable
from datetime import date

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.practice.plots.days import ONE_DAY, Marks
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log.diary import entries_of, of_phones


def marks_of(db: Database, client: int, first: date, today: date) -> Marks:
    """Return what marks a client's days from `first` to `today`.

    Args:
        db: The records.
        client: The client's key.
        first: The first day.
        today: The client's own day. Sport that is only planned for later is left out.
    """
    logged = events.since_day(db, client, first.isoformat())
    entries = corrected_entries(of_phones(entries_of(logged)))
    return Marks(frozenset(_sport(entries, today)), frozenset(_away(entries, first, today)))


def _sport(entries: Iterable[Event], today: date) -> list[date]:
    noted = (entry for entry in entries if entry.kind == "exposure_noted" and entry.body["what"] == "sport")
    return [entry.on for entry in noted if entry.on <= today]


def _away(entries: Iterable[Event], first: date, today: date) -> list[date]:
    bodies = (entry.body for entry in entries if entry.kind == "away_noted")
    stretches = [(date.fromisoformat(body["first"]), date.fromisoformat(body["last"])) for body in bodies]
    return [on for begun, ended in stretches for on in _between(max(begun, first), min(ended, today))]


def _between(first: date, last: date) -> list[date]:
    return [first + number * ONE_DAY for number in range(max(0, (last - first).days + 1))]

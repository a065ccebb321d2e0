"""What a client has told of that the practitioner should ask about soon: it changes no dose, so nothing else brings it to the desk."""

from datetime import date, timedelta

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log.diary import entries_of, of_phones

SHOWN_FOR = timedelta(days=7)
"""So long the caseload shows it. Own choice: a practitioner looks once a week."""


def asked_until(db: Database, client: int, today: date) -> date | None:
    """Return the first day on which there is nothing to ask any more, or None where there is nothing to ask.

    It is what a client told of after days away (an injury, an injection, an operation, a medicine, fever), and a morning with more than
    soreness. What was taken back counts for nothing.

    Args:
        db: The records.
        client: The client's key.
        today: The client's local day.
    """
    logged = events.since_day(db, client, (today - SHOWN_FOR).isoformat())
    days = [entry.on for entry in corrected_entries(of_phones(entries_of(logged))) if _is_to_ask(entry)]
    until = max(days, default=date.min)
    return until + SHOWN_FOR if until > today - SHOWN_FOR else None


def _is_to_ask(entry: Event) -> bool:
    if entry.kind == "away_noted":
        return bool(entry.body.get("happened"))
    return entry.kind == "morning_reported" and any(arm.get("besides") for arm in entry.body["arms"].values())

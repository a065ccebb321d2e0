"""Handing out a routine on paper: it counts from a day, as a version counts from the day on which a phone received it."""

from datetime import date, datetime

from webapp.events.kinds import LEVELS
from webapp.library.shelf import the_shelf
from webapp.records import events, routines
from webapp.records.database import Database, write
from webapp.sync.case.screening import screening_of
from webapp.sync.folding.fold import ONE_DAY
from webapp.sync.log import practice_events


class StartWaitsError(Exception):
    """The first session waits for something that is decided on the case page; nothing was stored."""


class SignsUnaskedError(Exception):
    """The warning signs were not asked before this client's first session; nothing was stored."""


def is_handed_out(db: Database, client: int, version: int) -> bool:
    """Whether a version counts already, on a phone or on paper."""
    found = routines.find(db, client, version)
    return bool(found and found.received_on)


def hand_out(db: Database, client: int, version: int, on: date, *, asked_signs: bool, now: datetime) -> bool:
    """Let a version count from a day on. Handing out a version that counts already changes nothing.

    Args:
        db: The records.
        client: The client's key.
        version: The number of the routine version.
        on: The client's local day.
        asked_signs: Whether the practitioner asked about every warning sign, and none was true.
        now: The instant of the call, in UTC.

    Returns:
        Whether anything was written.

    Raises:
        SignsUnaskedError: Nobody has asked about the warning signs yet.
        StartWaitsError: An intake or a sign waits for the practitioner.
    """
    with write(db):
        if is_handed_out(db, client, version):
            return False
        waits_for = screening_of(db, client).waits_for
        if waits_for == "screening" and not asked_signs:
            raise SignsUnaskedError
        if waits_for not in ("screening", "nothing"):
            raise StartWaitsError
        if waits_for == "screening":
            body = {"asked_list": the_shelf().signs_mark, "reached": LEVELS[-1], "signs": []}
            practice_events.put(db, client, "screening_answered", on, body, now)
        practice_events.put(db, client, "routine_received", on, {"version": version, "bundle": ""}, now)
        routines.note_received(db, client, version, on.isoformat(), now)
    return True


def first_day(db: Database, client: int) -> date | None:
    """Return the first day on which a routine counted, or None before."""
    days = [version.received_on for version in routines.of_client(db, client) if version.received_on]
    return date.fromisoformat(min(days)) if days else None


def next_untyped(db: Database, client: int, today: date) -> date:
    """Return the day after the last one of which the log has a number; the first day of the routine before; at most today."""
    last = events.latest_of(db, client, ("session_finished", "morning_reported"), 1)
    first = first_day(db, client) or today
    return min(today, max(first, date.fromisoformat(last[0].on_day) + ONE_DAY if last else first))

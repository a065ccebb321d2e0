"""The local day of a client, in the time zone of the client's phones."""

import json
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log import practice_events

DAY_STARTS = timedelta(hours=3)
ENTRIES_LOOKED_AT = 20


def zone_of(db: Database, client: int) -> str:
    """Return the time zone of the newest event from a phone of the client; UTC before the first event."""
    newest = events.newest_but_of(db, client, practice_events.DEVICE, ENTRIES_LOOKED_AT)
    try:
        return ZoneInfo(json.loads(newest.raw).get("zone")).key if newest else "UTC"
    except (ZoneInfoNotFoundError, ValueError, TypeError, OSError):
        # A name such as "America" is a folder of time zones, so it raises another error.
        return "UTC"


def local_day(now: datetime, zone: str) -> date:
    """Return the local day of an instant; a day starts at 03:00."""
    return (now.astimezone(ZoneInfo(zone)) - DAY_STARTS).date()

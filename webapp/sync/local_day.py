"""Which day it is where a client lives, by what their phones wrote."""

import json
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from webapp.records import events
from webapp.records.database import Database
from webapp.sync import desk

DAY_STARTS = timedelta(hours=3)
ENTRIES_LOOKED_AT = 20


def zone_of(db: Database, client: int) -> str:
    """Return the time zone of the newest entry that a phone of the client wrote, UTC before the first."""
    newest = events.newest_but_of(db, client, desk.DEVICE, ENTRIES_LOOKED_AT)
    try:
        return ZoneInfo(json.loads(newest.raw).get("zone")).key if newest else "UTC"
    except (ZoneInfoNotFoundError, ValueError, TypeError, OSError):
        # A name such as "America" is a directory of names.
        return "UTC"


def local_day(now: datetime, zone: str) -> date:
    """Return the local day of an instant; a day starts at 03:00."""
    return (now.astimezone(ZoneInfo(zone)) - DAY_STARTS).date()

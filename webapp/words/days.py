"""Days and instants as a person reads them: one way to write each, on every page and in the terminal.

May know calendars and time zones; reads no clock.
"""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from babel.dates import format_date, format_skeleton, format_time, get_timezone_location

from webapp.words.catalogue import Words, mark

DAY = "EEE d MMM y"
DAY_MONTH = "MMMd"
TIME = "HH:mm"
INSTANT = mark("%(day)s, %(time)s")
TIME_OF_A_CITY = mark("%(time)s, %(city)s time")
TIME_OF_THE_WORLD = mark("%(time)s UTC")
WORLD = ("UTC", "Etc/UTC")


def day_text(words: Words, on: date) -> str:
    """Write a day, such as "Mon 9 Mar 2026"."""
    return format_date(on, DAY, locale=words.cldr)


def day_month(words: Words, on: date) -> str:
    """Write a day without its weekday and year, such as "9 Mar"."""
    return format_skeleton(DAY_MONTH, datetime(on.year, on.month, on.day, tzinfo=UTC), locale=words.cldr)


def time_text(words: Words, at: datetime, zone: str) -> str:
    """Write an instant as a time of day that names its zone, such as "09:30, Lisbon time" or "09:30 UTC".

    Args:
        words: The language.
        at: With a zone of its own, whichever.
        zone: IANA name of the zone to write it in.
    """
    if zone in WORLD:
        return words.say(TIME_OF_THE_WORLD, time=format_time(at, TIME, tzinfo=UTC, locale=words.cldr))
    tzinfo = ZoneInfo(zone)
    city = get_timezone_location(tzinfo, locale=words.cldr, return_city=True)
    return words.say(TIME_OF_A_CITY, time=format_time(at, TIME, tzinfo=tzinfo, locale=words.cldr), city=city)


def instant_text(words: Words, at: datetime, zone: str) -> str:
    """Write an instant as its day and its time in a zone (see `time_text`)."""
    on = at.astimezone(ZoneInfo(zone)).date()
    return words.say(INSTANT, day=day_text(words, on), time=time_text(words, at, zone))

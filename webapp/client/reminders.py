"""Daily reminders as a calendar file: its text with gaps, which a phone fills in and saves without a network.

The rules of the format (RFC 5545, https://www.rfc-editor.org/rfc/rfc5545) are icalendar's. Times float: they mean the local time of
wherever the phone is (section 3.3.5). The title is neutral, and each reminder has one alarm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from webapp.words import words_for
from webapp.words.catalogue import mark

TITLE = mark("Ten minutes")
PRODUCT = "-//Halfturn//Reminders//EN"
LASTS = timedelta(minutes=10)
# What stands in the text until the gap takes its place.
STAMP, START, SEQUENCE = datetime(2001, 1, 1, 1, 1, 1, tzinfo=UTC), datetime(2002, 2, 2, 2, 2, 2), 33333  # noqa: DTZ001 - floats
# Each day, as icalendar writes it; a last day is added to it (section 3.3.10: of the same form as the start).
DAILY = "RRULE:FREQ=DAILY"
GAPS = {"20010101T010101Z": "{stamp}", "20020202T020202": "{start}", "SEQUENCE:33333": "SEQUENCE:{sequence}"}


@dataclass(frozen=True)
class ReminderText:
    """A calendar file in three parts, with lines that end in LF: what comes before the reminders, one of them, what comes after.

    `event` has the gaps {uid}, {stamp} (an instant in UTC), {start} (a local time) and {sequence} (from 0, higher with each change).
    """

    head: str
    event: str
    foot: str


def said_reminder(locale: str) -> ReminderText:
    """Return the parts of the file in a language."""
    return reminder_text(words_for(locale).say(TITLE))


def reminder_text(title: str) -> ReminderText:
    """Return the parts of a file whose daily reminders all have this title."""
    event = Event()
    event.add("uid", "{uid}")
    event.add("dtstamp", STAMP)
    event.add("dtstart", START)
    event.add("duration", LASTS)
    event.add("rrule", {"freq": "daily"})
    event.add("summary", title)
    event.add("sequence", SEQUENCE)
    # The time stays free for others who look at the calendar.
    event.add("transp", "TRANSPARENT")
    event.add_component(_alarm(title))
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add_component(event)
    return _parted(calendar.to_ical().decode().replace("\r\n", "\n"))


def filled(
    text: ReminderText, reminders: Mapping[str, str], changed_at: datetime, sequence: int, until: date | None = None
) -> bytes:
    """Return a whole file as a phone fills it in.

    Args:
        text: The parts of the file.
        reminders: Local times such as 07:30, by the name of the reminder.
        changed_at: When the times were changed last.
        sequence: From 0, higher with each change.
        until: The first day without a reminder; None where they go on.
    """
    ends = f"{DAILY};UNTIL={until:%Y%m%d}T000000" if until else DAILY
    gaps = {"stamp": f"{changed_at.astimezone(UTC):%Y%m%dT%H%M%SZ}", "sequence": str(sequence)}
    events = []
    for uid, time in reminders.items():
        start = f"{changed_at:%Y%m%d}T{time.replace(':', '')}00"
        event = text.event.replace(DAILY, ends)
        for gap, value in {**gaps, "uid": uid, "start": start}.items():
            event = event.replace(f"{{{gap}}}", value)
        events.append(event)
    lines = "\n".join([text.head, *events, text.foot])
    return f"{lines}\n".replace("\n", "\r\n").encode()


def _alarm(title: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(0))
    alarm.add("description", title)
    return alarm


def _parted(text: str) -> ReminderText:
    for written, gap in GAPS.items():
        text = text.replace(written, gap)
    start, end = text.index("BEGIN:VEVENT"), text.index("END:VCALENDAR")
    return ReminderText(text[:start].strip(), text[start:end].strip(), text[end:].strip())

"""The reminders' file as the phone makes it, read back by another library than the one that wrote its text."""

from datetime import UTC, datetime, timedelta

import pytest
from ical.calendar_stream import IcsCalendarStream
from ical.types import Frequency

from webapp.client.reminders import reminder_text, said_reminder

ID = "01964c2e-7c00-7000-8000-000000000001"
TIMES = {"morning": "07:30", "second": "17:05"}
FILL = """async (load, { parts, times, sequence }) => {
  const { calendarOf } = await load("pure/settings/reminders.js");
  const fill = (key, gaps) => parts[key].replace(/\\{(\\w+)\\}/g, (_, name) => gaps[name]);
  return calendarOf(fill, { times, id: "ID", sequence }, "2026-03-09", "2026-03-09T01:02:03.123Z");
}""".replace("ID", ID)


@pytest.fixture
def filled(ask):
    """Makes the file by the app's own script."""

    def fill(text, times, sequence=0):
        parts = {f"reminders.{name}": getattr(text, name) for name in ("head", "event", "foot")}
        return ask(FILL, parts=parts, times=times, sequence=sequence)

    return fill


def read(text):
    """The events of a file by the second library, which knows RFC 5545 on its own."""
    return IcsCalendarStream.calendar_from_ics(text).events


@pytest.mark.parametrize("locale", ["en", "es", "en-XA"])
def test_another_library_reads_each_reminder_daily_at_its_floating_time(filled, locale):
    events = read(filled(said_reminder(locale), TIMES))
    # Floating: no zone, RFC 5545, section 3.3.5.
    assert [event.dtstart for event in events] == [datetime(2026, 3, 9, 7, 30), datetime(2026, 3, 9, 17, 5)]  # noqa: DTZ001
    for event in events:
        assert event.rrule.freq == Frequency.DAILY
        assert (event.rrule.count, event.rrule.until) == (None, None)
        assert event.duration == timedelta(minutes=10)
        assert event.dtstamp == datetime(2026, 3, 9, 1, 2, 3, tzinfo=UTC)
        assert [(alarm.action, alarm.trigger) for alarm in event.alarm] == [("DISPLAY", timedelta(0))]


def test_the_title_is_neutral_and_nothing_else_is_said(filled):
    text = filled(said_reminder("en"), {**TIMES, "session": "08:00"})
    assert {event.summary for event in read(text)} == {"Ten minutes"}
    for word in ("wrist", "elbow", "pain", "arm ", "exercise", "session", "http"):
        assert word not in text.lower().replace(f"{ID}-session", "")


def test_a_changed_time_is_the_same_reminder_with_a_higher_number(filled):
    [before], [after] = (
        read(filled(said_reminder("en"), {"morning": time}, number)) for number, time in enumerate(("07:30", "06:45"))
    )
    assert before.uid == after.uid
    assert (before.sequence, after.sequence) == (0, 1)
    uids = [event.uid for event in read(filled(said_reminder("en"), {**TIMES, "session": "08:00"}))]
    assert len(set(uids)) == 3


@pytest.mark.parametrize(
    "title", ["Ten minutes", "A title, with commas; and \\ signs", "Zehn Minuten für mich, jeden Tag " * 4]
)
def test_lines_end_and_are_folded_as_the_format_has_it(filled, title):
    """RFC 5545, section 3.1: lines end with CRLF and hold at most 75 octets."""
    text = filled(reminder_text(title), TIMES)
    assert text.endswith("END:VCALENDAR\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75
    assert "{" not in text
    assert read(text)[0].summary == title

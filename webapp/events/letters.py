"""The letters between a client and the practice, with what each side has read.

The phone's `js/pure/letters/thread.js` does the same; a test holds the two together.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from webapp.events.kinds import Event

WRITTEN, ANSWERED, SEEN, READ = "letter_written", "letter_answered", "letter_seen", "letter_read"
LETTER_KINDS = (WRITTEN, ANSWERED, SEEN, READ, "entry_corrected")
"""The kinds of which a thread is made."""
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True)
class Letter:
    """A letter.

    Attributes:
        id: The id of its entry.
        on: The day on which it was written.
        at: The instant, as the writing device says it, ISO text.
        text: 1 to 1,000 characters.
        is_clients: Whether the client wrote it, and not the practice.
        by: The name of who wrote it in the practice; "" for a letter of the client.
        read_on: The day on which the other side has read it, or None.
    """

    id: str
    on: date
    at: str
    text: str
    is_clients: bool
    by: str
    read_on: date | None

    @property
    def is_unread(self) -> bool:
        """Whether it is a letter of the client that the practice has not read."""
        return self.is_clients and self.read_on is None


def letters_of(entries: Iterable[Event]) -> list[Letter]:
    """Return the letters of a log, the oldest first by the instants that the devices say.

    A letter of the client that the client has taken back is left out, unless the practice has read it. The text of a letter
    never changes: a correction with another text counts for nothing.

    Args:
        entries: The events of `LETTER_KINDS`, in any order; others are ignored.
    """
    known = {event.id: event for event in entries}
    by_kind = {kind: [event for event in known.values() if event.kind == kind] for kind in LETTER_KINDS}
    seen, read = _read_on(by_kind[SEEN]), _read_on(by_kind[READ])
    taken_back = {event.body["replaces"] for event in by_kind["entry_corrected"] if event.body.get("body") is None}
    own = [event for event in by_kind[WRITTEN] if event.id in seen or event.id not in taken_back]
    letters = [_letter(event, seen) for event in own] + [_letter(event, read) for event in by_kind[ANSWERED]]
    return sorted(letters, key=lambda letter: (_milliseconds(letter.at), letter.id))


def _read_on(readings: Iterable[Event]) -> dict[str, date]:
    """Return, by the id of a letter, the first day on which it was read."""
    days: dict[str, date] = {}
    for event in readings:
        for letter in event.body["letters"]:
            days[letter] = min(event.on, days.get(letter, event.on))
    return days


def _letter(event: Event, read: dict[str, date]) -> Letter:
    text, by = event.body["text"], event.body.get("by", "") if event.kind == ANSWERED else ""
    return Letter(event.id, event.on, event.at, text, event.kind == WRITTEN, by, read.get(event.id))


def _milliseconds(at: str) -> int:
    return (datetime.fromisoformat(at) - _EPOCH) // timedelta(milliseconds=1)

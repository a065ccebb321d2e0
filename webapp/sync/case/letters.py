"""Letters at the desk: the thread of a client, the practice's answer, and what the practice has read.

Knows no HTTP. Every phone of the client gets the practice's entries in its next sync.
"""

import hashlib
import re
from collections.abc import Collection, Iterable
from datetime import date, datetime

from webapp.events.letters import ANSWERED, LETTER_KINDS, SEEN, Letter, letters_of
from webapp.records import events
from webapp.records.database import Database, write
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of
from webapp.sync.log.local_day import local_day, zone_of

ALL = -1
_SEAL_LETTERS = 16
_MOST_AT_ONCE = 1000
_KEY = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}\Z")


class LettersMovedError(Exception):
    """Letters came in, or another answer was sent, after the page was shown; nothing was written."""


def thread_of(db: Database, client: int) -> list[Letter]:
    """Return the letters of a client and of the practice, the oldest first."""
    return letters_of(entries_of(events.latest_of(db, client, LETTER_KINDS, ALL)))


def seal(letters: Iterable[Letter]) -> str:
    """Return a text that identifies these letters."""
    return hashlib.sha256(" ".join(letter.id for letter in letters).encode()).hexdigest()[:_SEAL_LETTERS]


def answer(db: Database, client: int, text: str, by: str, key: str, seen: str, *, now: datetime) -> None:
    """Write to a client; all letters that the page showed count as read by it.

    A form that is sent twice writes once: the letter has the form's key for its id. A second text under the same key, as after
    the browser's way back, is no copy: the page that it comes from does not show the first.

    Args:
        db: The records.
        client: The client's key.
        text: 1 to 1,000 characters.
        by: The practitioner's name.
        key: The form's own key, from `practice_events.new_id`; another text counts as none.
        seen: The `seal` of the letters that the page showed.
        now: The instant of the call, in UTC.

    Raises:
        LettersMovedError: The page did not show all letters that are there now.
    """
    with write(db):
        letters = thread_of(db, client)
        if any((letter.id, letter.text, letter.is_clients) == (key, text, False) for letter in letters):
            return
        if seal(letters) != seen:
            raise LettersMovedError
        on = _today(db, client, now)
        _put_seen(db, client, [letter.id for letter in letters if letter.is_unread], on, now)
        is_free = _KEY.match(key) and not events.hashes_of(db, client, [key])
        event_id = key if is_free else practice_events.new_id(now)
        practice_events.put(db, client, ANSWERED, on, {"text": text, "by": by}, now, event_id)


def mark_seen(db: Database, client: int, shown: Collection[str], now: datetime) -> None:
    """Put on record that the practice has read some letters; what is read already changes nothing.

    Args:
        db: The records.
        client: The client's key.
        shown: The ids of the letters that the page showed as unread; others are ignored.
        now: The instant of the call, in UTC.
    """
    with write(db):
        unread = [letter.id for letter in thread_of(db, client) if letter.is_unread and letter.id in shown]
        _put_seen(db, client, unread, _today(db, client, now), now)


def _today(db: Database, client: int, now: datetime) -> date:
    return local_day(now, zone_of(db, client))


def _put_seen(db: Database, client: int, ids: list[str], on: date, now: datetime) -> None:
    for first in range(0, len(ids), _MOST_AT_ONCE):
        practice_events.put(db, client, SEEN, on, {"letters": ids[first : first + _MOST_AT_ONCE]}, now)

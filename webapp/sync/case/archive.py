"""The archive of the practice: a case is put out of sight, and comes back to notice when its client tells something.

For the client nothing changes: the phone takes no notice, the dose follows the log, and every entry is stored.
"""

import hashlib
from datetime import datetime

from webapp.events.kinds import PRACTICE_KINDS
from webapp.records import archivings, events
from webapp.records.archivings import Archiving
from webapp.records.database import Database, write

QUIET_KINDS = PRACTICE_KINDS | {"routine_received", "note_read", "letter_read"}
"""Entries of the practice, and those by which a phone only says that it has or shows something: no client has told anything."""
_SEAL_LETTERS = 16


class ArchiveChangedError(Exception):
    """An entry came in, or the case was archived or taken back, since the page was shown."""


def seal(db: Database, client: int) -> str:
    """Return a short hash of the log's last entry and of what was done with the archive; it changes with either."""
    last = next((each.id for each in archivings.of_client(db, client)), 0)
    seen = (events.newest_seq(db, client), last)
    return hashlib.sha256(repr(seen).encode()).hexdigest()[:_SEAL_LETTERS]


def archived_of(db: Database, client: int) -> Archiving | None:
    """Return how a case was put into the archive, with what came in since; None where it is not there."""
    return archivings.archived_client(db, client, QUIET_KINDS)


def archived_with(db: Database, practitioner: int) -> dict[int, Archiving]:
    """Return the same for each of a practitioner's clients who is in the archive, by the client's key."""
    return archivings.archived(db, practitioner, QUIET_KINDS)


def archive(db: Database, client: int, reason: str, by: int, seen: str, *, now: datetime) -> None:
    """Put a case into the archive; the same form sent twice does it once. One that is there already is put there anew.

    Args:
        db: The records.
        client: The client's key.
        reason: Why; only the practice reads it.
        by: The practitioner's key.
        seen: The seal that the page showed.
        now: The instant of the call, in UTC.

    Raises:
        ArchiveChangedError: Something came in meanwhile; nothing was changed.
    """
    with write(db):
        if seen != seal(db, client):
            there = archived_of(db, client)
            if there and there.reason == reason and not there.entries:
                return
            raise ArchiveChangedError
        archivings.put(db, client, is_archived=True, reason=reason, by=by, now=now)


def take_back(db: Database, client: int, by: int, *, now: datetime) -> bool:
    """Take a case out of the archive; return False where it was not there, and nothing was changed."""
    with write(db):
        if archived_of(db, client) is None:
            return False
        archivings.put(db, client, is_archived=False, reason="", by=by, now=now)
        return True

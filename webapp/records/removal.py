"""Removing a client for good: every row about the client, and the bytes that such rows left in the file.

Which tables speak of a client is read from the tables' own foreign keys, so a new table is never forgotten.
"""

import hashlib
from datetime import datetime
from typing import NamedTuple

from webapp.records import acts
from webapp.records.database import Database, StorageError, instant, tidy, write

TO_TIDY = "to_tidy"
"""A setting that is there from a removal until the file was written anew without what was removed."""


class Removed(NamedTuple):
    """What is kept of a removal: no person, only counts.

    Attributes:
        removed_at: The instant, UTC text.
        why: 'asked' or 'kept_long_enough'.
        entries: The number of entries in the client's log.
        versions: The number of routine versions.
    """

    removed_at: str
    why: str
    entries: int
    versions: int


def mark_of(public_id: str) -> str:
    """Return the hash by which the acts file names a removed client."""
    return hashlib.sha256(public_id.encode()).hexdigest()


def references(db: Database, to: str = "clients") -> list[tuple[str, str]]:
    """List (table, column) for each foreign key to a table; those that refer to one another stand in no order."""
    tables = [row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()]
    return [
        (table, column)
        for table in tables
        for _, _, target, column, *_ in db.execute(f'PRAGMA foreign_key_list("{table}")').fetchall()
        if target == to
    ]


def remove(db: Database, client: int, why: str, now: datetime) -> Removed:
    """Remove a client and every row about the client; the file is then written anew, so that no byte of them stays.

    Where the file cannot be written anew at once (a full disk), `tidy_up` does it later; the rows are gone all the same.

    Args:
        db: The records.
        client: The client's key.
        why: 'asked' or 'kept_long_enough'.
        now: The instant of the call, with a zone.

    Raises:
        LookupError: There is no such client.
    """
    with write(db):
        row = db.execute("SELECT public_id FROM clients WHERE id = ?", (client,)).fetchone()
        if row is None:
            raise LookupError(f"no client {client}")
        removed = Removed(instant(now), why, _count(db, "events", client), _count(db, "routine_versions", client))
        _delete(db, client)
        db.execute("INSERT INTO removals (removed_at, why, entries, versions) VALUES (?, ?, ?, ?)", removed)
        _set_to_tidy(db)
        acts.note(db, acts.CLIENT_REMOVED, mark_of(row[0]))
    tidy_up(db)
    return removed


def remove_again(db: Database, mark: str) -> int:
    """Remove, inside the write of a restore, a client who had been removed after the copy was made; return how many."""
    rows = db.execute("SELECT id, public_id FROM clients").fetchall()
    found = [client for client, public_id in rows if mark_of(public_id) == mark]
    for client in found:
        _delete(db, client)
        _set_to_tidy(db)
    return len(found)


def tidy_up(db: Database) -> bool:
    """Write the file anew if a removal asks for it; return whether nothing is left to do."""
    if not db.execute("SELECT 1 FROM settings WHERE key = ?", (TO_TIDY,)).fetchone():
        return True
    try:
        tidy(db)
    except StorageError:
        return False
    with write(db):
        db.execute("DELETE FROM settings WHERE key = ?", (TO_TIDY,))
    return True


def removals(db: Database) -> list[Removed]:
    """List what is kept of each removal, the latest first."""
    rows = db.execute("SELECT removed_at, why, entries, versions FROM removals ORDER BY id DESC").fetchall()
    return [Removed(*row) for row in rows]


def _set_to_tidy(db: Database) -> None:
    db.execute("INSERT INTO settings (key, value) VALUES (?, '1') ON CONFLICT (key) DO NOTHING", (TO_TIDY,))


def _count(db: Database, table: str, client: int) -> int:
    return int(db.execute(f"SELECT COUNT(*) FROM {table} WHERE client = ?", (client,)).fetchone()[0])


def _delete(db: Database, client: int) -> None:
    # Of two tables that refer to each other either may come first: the foreign keys are looked at when the write is safe.
    db.execute("PRAGMA defer_foreign_keys = ON")
    for table, column in references(db):
        db.execute(f'DELETE FROM "{table}" WHERE "{column}" = ?', (client,))
    db.execute("DELETE FROM clients WHERE id = ?", (client,))

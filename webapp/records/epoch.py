"""Which life of the log this is: a phone that is told of another epoch sends all that it has again.

Each restore begins another for everybody. Where one phone proves that the log of its client went back, that client
alone gets another.
"""

import re
from secrets import token_hex

from webapp.records.database import Database, write
from webapp.records.faults import RecordsError

KEY = re.compile(r"[0-9a-f]{32,}")


def of_client(db: Database, client: int) -> str:
    """Return the epoch of a client's log."""
    own = db.execute("SELECT epoch FROM clients WHERE id = ?", (client,)).fetchone()[0]
    return _setting(db, "epoch") + str(own)


def renew_for(db: Database, client: int) -> str:
    """Draw another epoch for one client, and return it."""
    with write(db):
        db.execute("UPDATE clients SET epoch = ? WHERE id = ?", (f"-{token_hex(4)}", client))
    return of_client(db, client)


def renew(db: Database) -> None:
    """Draw another epoch for everybody, and another key for cookies, inside a write."""
    db.execute("UPDATE settings SET value = ? WHERE key = 'epoch'", (token_hex(8),))
    db.execute("UPDATE clients SET epoch = ''")
    db.execute(
        "INSERT INTO settings (key, value) VALUES ('secret_key', ?)"
        " ON CONFLICT (key) DO UPDATE SET value = excluded.value",
        (token_hex(32),),
    )


def secret_key(db: Database) -> str:
    """Return the key that signs cookies.

    Raises:
        RecordsError: `weak_key`: it is not there, or could be guessed.
    """
    key = _setting(db, "secret_key")
    if not KEY.fullmatch(key):
        raise RecordsError("weak_key", path=db.path)
    return key


def _setting(db: Database, key: str) -> str:
    row = db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
    return str(row[0]) if row else ""

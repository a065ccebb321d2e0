"""The epoch of a client's log. If a phone gets a new epoch, it sends all its events again.

Each restore draws new epochs for all clients. If a phone proves that the log of its client went back, only that client
gets a new epoch.
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
    """Draw a new epoch for one client, and return it."""
    with write(db):
        db.execute("UPDATE clients SET epoch = ? WHERE id = ?", (f"-{token_hex(4)}", client))
    return of_client(db, client)


def renew(db: Database) -> None:
    """Draw a new epoch for all clients and a new key for cookies, inside a write."""
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
        RecordsError: `weak_key`: the key is missing or could be guessed.
    """
    key = _setting(db, "secret_key")
    if not KEY.fullmatch(key):
        raise RecordsError("weak_key", path=db.path)
    return key


def _setting(db: Database, key: str) -> str:
    row = db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
    return str(row[0]) if row else ""

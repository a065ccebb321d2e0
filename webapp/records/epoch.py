"""Which life of the log this is: a server restored from a copy gets a new epoch, so that phones send again."""

from secrets import token_hex

from webapp.records.database import Database, write


def current(db: Database) -> str:
    """Give the epoch."""
    return _setting(db, "epoch")


def renew(db: Database) -> str:
    """Draw a new epoch; to be called once after a restore, before serving."""
    with write(db):
        db.execute("UPDATE settings SET value = ? WHERE key = 'epoch'", (token_hex(8),))
    return current(db)


def secret_key(db: Database) -> str:
    """Give the key that signs cookies."""
    return _setting(db, "secret_key")


def _setting(db: Database, key: str) -> str:
    return str(db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()[0])

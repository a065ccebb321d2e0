"""Failed tries, counted by a key such as an address, so that guessing can be slowed.

Knows keys and instants; what is too many is not decided here.
"""

from datetime import datetime, timedelta

from webapp.records.database import Database

KEPT = timedelta(days=1)


def add(db: Database, key: str, now: datetime) -> None:
    """Note one failed try, inside a write; those older than a day are dropped."""
    db.execute("DELETE FROM attempts WHERE at < ?", ((now - KEPT).timestamp(),))
    db.execute("INSERT INTO attempts (key, at) VALUES (?, ?)", (key, now.timestamp()))


def since(db: Database, key: str, earliest: datetime) -> list[float]:
    """List the instants (seconds since 1970) of a key's tries after `earliest`, oldest first."""
    rows = db.execute(
        "SELECT at FROM attempts WHERE key = ? AND at > ? ORDER BY at", (key, earliest.timestamp())
    ).fetchall()
    return [row[0] for row in rows]


def forget(db: Database, key: str) -> None:
    """Drop a key's tries, inside a write, as when the right secret was given."""
    db.execute("DELETE FROM attempts WHERE key = ?", (key,))

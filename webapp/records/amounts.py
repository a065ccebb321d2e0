"""How much a phone sent since an instant: the entries that were stored, and those that were refused and set aside."""

from typing import NamedTuple

from webapp.records.database import Database


class Amount(NamedTuple):
    """The amount that a phone sent: the number of events, and their bytes."""

    entries: int
    size: int


def taken_since(db: Database, device: str, since: str) -> Amount:
    """Return the amount that was stored for a phone since an instant (UTC text)."""
    return _amount(db, "events", "raw", device, since)


def set_aside_since(db: Database, device: str, since: str) -> Amount:
    """Return the amount of refused events that was stored for a phone since an instant (UTC text); ids count as bytes."""
    return _amount(db, "quarantine", "raw || id", device, since)


def _amount(db: Database, table: str, text: str, device: str, since: str) -> Amount:
    row = db.execute(
        f"SELECT COUNT(*), COALESCE(SUM(LENGTH(CAST({text} AS BLOB))), 0) FROM {table}"
        " WHERE device = ? AND received_at >= ?",
        (device, since),
    ).fetchone()
    return Amount(*row)

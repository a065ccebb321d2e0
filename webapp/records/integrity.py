"""Faults that SQLite or counting finds in a database: damaged pages, dangling foreign keys, gaps in a log."""

from webapp.records.database import Database, StorageError

MOST_TOLD = 20


def faults(db: Database) -> list[str]:
    """List the faults that SQLite finds in pages and indexes, at most twenty."""
    try:
        found = [str(row[0]) for row in db.execute(f"PRAGMA integrity_check({MOST_TOLD})").fetchall()]
    except StorageError as error:
        return [str(error)]
    return [] if found == ["ok"] else found


def dangling(db: Database) -> list[tuple[str, str, str]]:
    """List the dangling foreign keys: table, row number or "-", and the table where the row is missing."""
    found = db.execute("PRAGMA foreign_key_check").fetchall()
    return [(row[0], "-" if row[1] is None else str(row[1]), row[2]) for row in found]


def gaps_in_logs(db: Database) -> list[tuple[int, int, int]]:
    """List the clients whose events are not numbered 1, 2, 3 …: client, number of events, last number."""
    found = db.execute(
        "SELECT client, COUNT(*), MAX(seq) FROM events GROUP BY client"
        " HAVING COUNT(*) != MAX(seq) OR MIN(seq) != 1 ORDER BY client"
    ).fetchall()
    return [(row[0], row[1], row[2]) for row in found]


def clients(db: Database) -> list[int]:
    """List the keys of all clients, including clients who have ended."""
    return [row[0] for row in db.execute("SELECT id FROM clients ORDER BY id").fetchall()]

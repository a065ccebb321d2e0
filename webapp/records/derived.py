"""The caches that are computed from the log and the routines, and may be dropped: bundles, folds, summaries, glances, anchors."""

from webapp.records.database import Database, write

TABLES = ("bundles", "folded", "summaries", "glances", "guidance")


def maker(db: Database) -> str | None:
    """Return the hash of the program and content that made the caches, or None."""
    row = db.execute("SELECT value FROM settings WHERE key = 'maker'").fetchone()
    return None if row is None else str(row[0])


def drop_unless_made_by(db: Database, current: str) -> bool:
    """Drop all caches if another program or content made them.

    Args:
        db: The records.
        current: A hash of the program and its content.

    Returns:
        Whether the caches were dropped.
    """
    if maker(db) == current:
        return False
    with write(db):
        for table in TABLES:
            db.execute(f"DELETE FROM {table}")
        db.execute(
            "INSERT INTO settings (key, value) VALUES ('maker', ?)"
            " ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            (current,),
        )
    return True

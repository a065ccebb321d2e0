"""What is worked out from the log and the routines, and may be dropped whole: bundles, folds, summaries and anchors."""

from webapp.records.database import Database, write

TABLES = ("bundles", "folded", "summaries", "guidance")


def maker(db: Database) -> str | None:
    """Return which state of the program and its content made what there is, or None."""
    row = db.execute("SELECT value FROM settings WHERE key = 'maker'").fetchone()
    return None if row is None else str(row[0])


def drop_unless_made_by(db: Database, current: str) -> bool:
    """Drop all of it if another state of the program and its content made it.

    Args:
        db: The records.
        current: A hash of the program and its content.

    Returns:
        Whether it was dropped.
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

"""What is worked out from the log and the routines, and may be dropped whole: bundles, folds, summaries and anchors."""

from webapp.records.database import Database, write

TABLES = ("bundles", "folded", "summaries", "guidance")


def drop_unless_made_by(db: Database, maker: str) -> bool:
    """Drop all of it if another state of the program and its content made it.

    Args:
        db: The records.
        maker: A hash of the program and its content.

    Returns:
        Whether it was dropped.
    """
    row = db.execute("SELECT value FROM settings WHERE key = 'maker'").fetchone()
    if row is not None and row[0] == maker:
        return False
    with write(db):
        for table in TABLES:
            db.execute(f"DELETE FROM {table}")
        db.execute(
            "INSERT INTO settings (key, value) VALUES ('maker', ?)"
            " ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            (maker,),
        )
    return True

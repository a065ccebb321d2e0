"""Routine versions that were taken back before a phone had received them."""

from webapp.records import acts, routines
from webapp.records.database import Database, write

_PUSHED = "client, version, routine, settings, note, pushed_at, pushed_by"


def withdraw(db: Database, client: int, version: int) -> bool:
    """Take back a client's newest version, if no phone has received it; its number is never used again.

    A phone may have fetched it without having said so yet. When it says so, the version is on record again
    (`bring_back`).

    Returns:
        Whether it was taken back.
    """
    with write(db):
        newest = routines.latest(db, client)
        if newest is None or newest.version != version or newest.received_at:
            return False
        db.execute("UPDATE clients SET version_floor = MAX(version_floor, ?) WHERE id = ?", (version, client))
        withdraw_again(db, client, version)
        acts.note(db, acts.ROUTINE_WITHDRAWN, f"{client} {version}")
    return True


def withdraw_again(db: Database, client: int, version: int) -> None:
    """Take back a version inside a write, unless a phone has received it."""
    db.execute(
        f"INSERT INTO withdrawn_versions ({_PUSHED}) SELECT {_PUSHED} FROM routine_versions"
        " WHERE client = ?1 AND version = ?2 AND received_at IS NULL",
        (client, version),
    )
    db.execute(
        "DELETE FROM routine_versions WHERE client = ?1 AND version = ?2 AND received_at IS NULL", (client, version)
    )


def numbers_of(db: Database, client: int) -> list[int]:
    """List the numbers of a client's versions that were withdrawn, the newest first."""
    rows = db.execute(
        "SELECT version FROM withdrawn_versions WHERE client = ? ORDER BY version DESC", (client,)
    ).fetchall()
    return [int(row[0]) for row in rows]


def bring_back(db: Database, client: int, version: int) -> None:
    """Put a withdrawn version on record again, inside a write, because a phone has it; any other stays as it is."""
    db.execute(
        f"INSERT INTO routine_versions ({_PUSHED}) SELECT {_PUSHED} FROM withdrawn_versions"
        " WHERE client = ?1 AND version = ?2",
        (client, version),
    )
    db.execute("DELETE FROM withdrawn_versions WHERE client = ?1 AND version = ?2", (client, version))

"""Takes the movements of another practice's own that a file's routine versions carry, as this practice's own."""

from collections.abc import Sequence
from datetime import datetime

from webapp.records import movements
from webapp.records.database import Database
from webapp.sync.carrying.own_file import CarriedVersion


def bring_movements(db: Database, practice: int, versions: Sequence[CarriedVersion]) -> None:
    """Take the newest copy of each own movement, inside a write; one that the practice has already stays as it is.

    Args:
        db: The records.
        practice: The practice's key.
        versions: Of one client, the oldest first; already checked.
    """
    for version in reversed(versions):
        for own in version.routine.get("own", ()):
            movements.bring(db, practice, own, datetime.fromisoformat(version.pushed_at))

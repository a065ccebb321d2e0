"""The migrations after those of `migrations`, in one list with them. A new one goes to the end of this file."""

import sqlite_utils

from webapp.records.migrations import migrations

__all__ = ["migrations"]

_WITHDRAWN = """CREATE TABLE withdrawn_versions (
    client INTEGER NOT NULL REFERENCES clients (id), version INTEGER NOT NULL,
    routine TEXT NOT NULL CHECK (json_valid(routine)), settings TEXT NOT NULL CHECK (json_valid(settings)),
    note TEXT NOT NULL, pushed_at TEXT NOT NULL, pushed_by INTEGER NOT NULL REFERENCES practitioners (id),
    PRIMARY KEY (client, version)) STRICT"""


@migrations()
def withdrawn_versions(db: sqlite_utils.Database) -> None:
    """Make the table of routine versions that were withdrawn before a phone had them."""
    db.execute(_WITHDRAWN)

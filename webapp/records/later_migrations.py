"""The migrations after those of `migrations`, in one list with them. A new one goes to the end of this file."""

import sqlite_utils

from webapp.records.migrations import migrations

__all__ = ["migrations"]

_WITHDRAWN = """CREATE TABLE withdrawn_versions (
    client INTEGER NOT NULL REFERENCES clients (id), version INTEGER NOT NULL,
    routine TEXT NOT NULL CHECK (json_valid(routine)), settings TEXT NOT NULL CHECK (json_valid(settings)),
    note TEXT NOT NULL, pushed_at TEXT NOT NULL, pushed_by INTEGER NOT NULL REFERENCES practitioners (id),
    PRIMARY KEY (client, version)) STRICT"""
_DRAFTS = """CREATE TABLE drafts (
    key TEXT PRIMARY KEY, practitioner INTEGER NOT NULL REFERENCES practitioners (id),
    client INTEGER NOT NULL REFERENCES clients (id), entries TEXT NOT NULL CHECK (json_valid(entries)),
    kept_at TEXT NOT NULL) STRICT, WITHOUT ROWID"""


@migrations()
def withdrawn_versions(db: sqlite_utils.Database) -> None:
    """Make the table of routine versions that were withdrawn before a phone had them."""
    db.execute(_WITHDRAWN)


_ARCHIVINGS = (
    """CREATE TABLE archivings (
        id INTEGER PRIMARY KEY, client INTEGER NOT NULL REFERENCES clients (id),
        is_archived INTEGER NOT NULL CHECK (is_archived IN (0, 1)), reason TEXT NOT NULL,
        by_whom INTEGER NOT NULL REFERENCES practitioners (id), at TEXT NOT NULL, through_seq INTEGER NOT NULL) STRICT""",
    "CREATE INDEX archivings_of_client ON archivings (client, id)",
)


@migrations()
def archivings(db: sqlite_utils.Database) -> None:
    """Make the table of cases that were put into the archive and taken back."""
    for statement in _ARCHIVINGS:
        db.execute(statement)


@migrations()
def drafts(db: sqlite_utils.Database) -> None:
    """Make the table of drafts that are looked at before a push."""
    db.execute(_DRAFTS)


_MOVEMENTS = (
    """CREATE TABLE movements (
        id INTEGER PRIMARY KEY, practice INTEGER NOT NULL REFERENCES practices (id), public_id TEXT NOT NULL,
        form_key TEXT NOT NULL, retired_at TEXT, UNIQUE (practice, public_id), UNIQUE (practice, form_key)) STRICT""",
    """CREATE TABLE movement_versions (
        movement INTEGER NOT NULL REFERENCES movements (id), version INTEGER NOT NULL CHECK (version > 0),
        content TEXT NOT NULL CHECK (json_valid(content)), made_at TEXT NOT NULL,
        made_by INTEGER REFERENCES practitioners (id), PRIMARY KEY (movement, version)) STRICT, WITHOUT ROWID""",
    """CREATE TABLE movement_drafts (
        key TEXT PRIMARY KEY, practitioner INTEGER NOT NULL REFERENCES practitioners (id),
        entries TEXT NOT NULL CHECK (json_valid(entries)), kept_at TEXT NOT NULL) STRICT, WITHOUT ROWID""",
)


@migrations()
def own_movements(db: sqlite_utils.Database) -> None:
    """Make the tables of the movements of a practice's own, which come in immutable versions, and of drafts of them."""
    for statement in _MOVEMENTS:
        db.execute(statement)


_RECOVERY = (
    "ALTER TABLE practitioners ADD COLUMN recovery_hash TEXT NOT NULL DEFAULT ''",
    """CREATE TABLE password_events (
        id INTEGER PRIMARY KEY, practitioner INTEGER NOT NULL REFERENCES practitioners (id), what TEXT NOT NULL,
        by_whom INTEGER REFERENCES practitioners (id), at TEXT NOT NULL, seen_at TEXT) STRICT""",
    "CREATE INDEX password_events_of_practitioner ON password_events (practitioner)",
)


@migrations()
def recovery_codes(db: sqlite_utils.Database) -> None:
    """Make room for each practitioner's recovery code, as a hash, and for what happened to their password."""
    for statement in _RECOVERY:
        db.execute(statement)


@migrations()
def seldom_events(db: sqlite_utils.Database) -> None:
    """Make an index of the kinds that come seldom, so that a page finds the few of them in a long log."""
    db.execute(
        "CREATE INDEX events_seldom ON events (client, kind)"
        " WHERE kind NOT IN ('session_finished', 'morning_reported', 'exposure_noted', 'habit_noted')"
    )


_OFFERED = """CREATE TABLE offered_routines (
    key TEXT NOT NULL UNIQUE, practitioner INTEGER NOT NULL REFERENCES practitioners (id),
    routine TEXT NOT NULL CHECK (json_valid(routine)), offered_at TEXT NOT NULL, withdrawn_at TEXT) STRICT"""


@migrations()
def offered_routines(db: sqlite_utils.Database) -> None:
    """Make the table of routines that are offered to the practice; it names no client."""
    db.execute(_OFFERED)

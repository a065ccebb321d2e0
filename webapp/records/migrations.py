"""The later migrations, after those of `first_migrations.py`. A migration that was applied is never edited; a change is a new one."""

import sqlite_utils

from webapp.records.first_migrations import migrations

__all__ = ["migrations"]


@migrations()
def removals(db: sqlite_utils.Database) -> None:
    """Make the table of what is kept of removed clients: when, why, and how much; no person."""
    db.execute(
        "CREATE TABLE removals (id INTEGER PRIMARY KEY, removed_at TEXT NOT NULL,"
        " why TEXT NOT NULL CHECK (why IN ('asked', 'kept_long_enough')), entries INTEGER NOT NULL,"
        " versions INTEGER NOT NULL) STRICT"
    )


_PRACTICES = (
    """CREATE TABLE practices (
        id INTEGER PRIMARY KEY, name TEXT NOT NULL, zone TEXT NOT NULL DEFAULT 'UTC', telephone TEXT NOT NULL DEFAULT '',
        hours TEXT NOT NULL DEFAULT '', tunings TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(tunings)),
        bounds TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(bounds))) STRICT""",
    "ALTER TABLE practitioners ADD COLUMN practice INTEGER REFERENCES practices (id)",
    "ALTER TABLE practitioners ADD COLUMN role TEXT NOT NULL DEFAULT 'owner' CHECK (role IN ('owner', 'member'))",
    "ALTER TABLE practitioners ADD COLUMN removed_at TEXT",
    # Nobody may see more than before: each practitioner becomes the owner of a practice of their own.
    "INSERT INTO practices (id, name) SELECT id, name FROM practitioners",
    "UPDATE practitioners SET practice = id",
    """CREATE TABLE password_links (
        token_hash TEXT PRIMARY KEY, practitioner INTEGER NOT NULL REFERENCES practitioners (id),
        expires_at TEXT NOT NULL) STRICT""",
)


@migrations()
def practices(db: sqlite_utils.Database) -> None:
    """Make practices with owners and members, and the links by which members set their first password."""
    for statement in _PRACTICES:
        db.execute(statement)


_FOR_THE_CASELOAD = (
    """CREATE TABLE glances (
        client INTEGER PRIMARY KEY REFERENCES clients (id), through_seq INTEGER NOT NULL, version INTEGER NOT NULL,
        told TEXT NOT NULL CHECK (json_valid(told))) STRICT""",
    """CREATE TABLE seen (
        client INTEGER PRIMARY KEY REFERENCES clients (id), until TEXT NOT NULL, note TEXT NOT NULL,
        causes TEXT NOT NULL CHECK (json_valid(causes)), by_name TEXT NOT NULL, marked_at TEXT NOT NULL) STRICT""",
)


@migrations()
def for_the_caseload(db: sqlite_utils.Database) -> None:
    """Make the table of a cache, the glances of the caseload, and the table of the practice's own marks 'seen, until a day'."""
    for statement in _FOR_THE_CASELOAD:
        db.execute(statement)


_HISTORY = (
    """CREATE TABLE hand_overs (
        id INTEGER PRIMARY KEY, client INTEGER NOT NULL REFERENCES clients (id),
        before INTEGER NOT NULL REFERENCES practitioners (id), now_with INTEGER NOT NULL REFERENCES practitioners (id),
        by_whom INTEGER NOT NULL REFERENCES practitioners (id), reason TEXT NOT NULL, at TEXT NOT NULL, seen_at TEXT) STRICT""",
    "CREATE INDEX hand_overs_to ON hand_overs (now_with) WHERE seen_at IS NULL",
    """CREATE TABLE history (
        id INTEGER PRIMARY KEY, practice INTEGER NOT NULL REFERENCES practices (id),
        practitioner INTEGER NOT NULL REFERENCES practitioners (id), what TEXT NOT NULL,
        client INTEGER REFERENCES clients (id), at TEXT NOT NULL) STRICT""",
    "CREATE INDEX history_of_practice ON history (practice, id)",
)


@migrations()
def history(db: sqlite_utils.Database) -> None:
    """Make the tables of hand-overs and of who did what."""
    for statement in _HISTORY:
        db.execute(statement)


_GROUPS = (
    """CREATE TABLE groups (
        id INTEGER PRIMARY KEY, public_id TEXT NOT NULL UNIQUE,
        practitioner INTEGER NOT NULL REFERENCES practitioners (id), name TEXT NOT NULL, locale TEXT NOT NULL,
        routine TEXT NOT NULL CHECK (json_valid(routine)), token TEXT NOT NULL UNIQUE, most INTEGER NOT NULL,
        joined INTEGER NOT NULL DEFAULT 0, ends_at TEXT NOT NULL, closed_at TEXT, confirmed TEXT NOT NULL,
        made_at TEXT NOT NULL, form_key TEXT NOT NULL, UNIQUE (practitioner, form_key)) STRICT""",
    """CREATE TABLE group_members (
        client INTEGER PRIMARY KEY REFERENCES clients (id), group_id INTEGER NOT NULL REFERENCES groups (id),
        key_hash TEXT, joined_at TEXT NOT NULL, started_at TEXT, UNIQUE (group_id, key_hash)) STRICT""",
)


@migrations()
def groups(db: sqlite_utils.Database) -> None:
    """Make the tables of group invitations and of who joined by them."""
    for statement in _GROUPS:
        db.execute(statement)


@migrations()
def private_notes(db: sqlite_utils.Database) -> None:
    """Make the table of the practice's own notes about a client; a struck-out note keeps its text."""
    db.execute(
        "CREATE TABLE private_notes (id INTEGER PRIMARY KEY, client INTEGER NOT NULL REFERENCES clients (id),"
        " key TEXT NOT NULL, text TEXT NOT NULL, written_by INTEGER NOT NULL REFERENCES practitioners (id),"
        " written_at TEXT NOT NULL, struck_by INTEGER REFERENCES practitioners (id), struck_at TEXT,"
        " CHECK ((struck_by IS NULL) = (struck_at IS NULL)), UNIQUE (client, key)) STRICT"
    )


@migrations()
def keeping(db: sqlite_utils.Database) -> None:
    """Keep with each practice after how many years it removes clients who have ended; NULL for never."""
    db.execute("ALTER TABLE practices ADD COLUMN keep_years INTEGER CHECK (keep_years BETWEEN 1 AND 50)")

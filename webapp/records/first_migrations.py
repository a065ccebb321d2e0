"""The first tables, and the migrations that make them; `migrations.py` goes on. A migration that was applied is never edited."""

from secrets import token_hex

import sqlite_utils
from sqlite_utils.migrations import Migrations

migrations = Migrations("halfturn")

_FIRST_TABLES = (
    "CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT",
    """CREATE TABLE practitioners (
        id INTEGER PRIMARY KEY, name TEXT NOT NULL, email TEXT NOT NULL UNIQUE CHECK (email = lower(email)),
        password_hash TEXT NOT NULL, created_at TEXT NOT NULL) STRICT""",
    """CREATE TABLE practitioner_sessions (
        token_hash TEXT PRIMARY KEY, practitioner INTEGER NOT NULL REFERENCES practitioners (id),
        created_at TEXT NOT NULL, seen_at TEXT NOT NULL) STRICT""",
    """CREATE TABLE clients (
        id INTEGER PRIMARY KEY, public_id TEXT NOT NULL UNIQUE,
        practitioner INTEGER NOT NULL REFERENCES practitioners (id), name TEXT NOT NULL, locale TEXT NOT NULL,
        intake TEXT NOT NULL CHECK (json_valid(intake)), created_at TEXT NOT NULL, ended_at TEXT) STRICT""",
    "CREATE INDEX clients_of_practitioner ON clients (practitioner)",
    """CREATE TABLE routine_versions (
        client INTEGER NOT NULL REFERENCES clients (id), version INTEGER NOT NULL CHECK (version > 0),
        routine TEXT NOT NULL CHECK (json_valid(routine)), settings TEXT NOT NULL CHECK (json_valid(settings)),
        note TEXT NOT NULL, pushed_at TEXT NOT NULL, pushed_by INTEGER NOT NULL REFERENCES practitioners (id),
        received_on TEXT, received_at TEXT, PRIMARY KEY (client, version)) STRICT, WITHOUT ROWID""",
    """CREATE TABLE invitations (
        id INTEGER PRIMARY KEY, client INTEGER NOT NULL REFERENCES clients (id),
        kind TEXT NOT NULL CHECK (kind IN ('link', 'code')), selector TEXT NOT NULL UNIQUE,
        secret_hash TEXT NOT NULL, made_at TEXT NOT NULL, expires_at TEXT NOT NULL, used_at TEXT,
        tries INTEGER NOT NULL DEFAULT 0) STRICT""",
    "CREATE INDEX invitations_of_client ON invitations (client)",
    """CREATE TABLE devices (
        id TEXT PRIMARY KEY, client INTEGER NOT NULL REFERENCES clients (id), token_hash TEXT NOT NULL UNIQUE,
        name TEXT NOT NULL, joined_at TEXT NOT NULL, seen_at TEXT NOT NULL, last_sync_at TEXT, revoked_at TEXT,
        cursor INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID""",
    "CREATE INDEX devices_of_client ON devices (client)",
    """CREATE TABLE events (
        client INTEGER NOT NULL REFERENCES clients (id), seq INTEGER NOT NULL, id TEXT NOT NULL,
        on_day TEXT NOT NULL, kind TEXT NOT NULL, device TEXT NOT NULL, device_seq INTEGER NOT NULL,
        raw TEXT NOT NULL, hash TEXT NOT NULL, received_at TEXT NOT NULL,
        PRIMARY KEY (client, seq)) STRICT, WITHOUT ROWID""",
    "CREATE UNIQUE INDEX events_by_id ON events (client, id)",
    "CREATE INDEX events_by_day ON events (client, on_day)",
    "CREATE INDEX events_corrected ON events (client, seq) WHERE kind = 'entry_corrected'",
    """CREATE TABLE quarantine (
        client INTEGER NOT NULL REFERENCES clients (id), id TEXT NOT NULL, hash TEXT NOT NULL,
        device TEXT NOT NULL, raw TEXT NOT NULL, code TEXT NOT NULL, message TEXT NOT NULL,
        received_at TEXT NOT NULL) STRICT""",
    "CREATE UNIQUE INDEX quarantine_once ON quarantine (client, id, hash)",
    """CREATE TABLE folded (
        client INTEGER PRIMARY KEY REFERENCES clients (id), through_seq INTEGER NOT NULL, day TEXT NOT NULL,
        accounts TEXT NOT NULL CHECK (json_valid(accounts))) STRICT""",
    # One bundle for each client, version and language: bundles of two clients may have the same content.
    """CREATE TABLE bundles (
        client INTEGER NOT NULL REFERENCES clients (id), version INTEGER NOT NULL, locale TEXT NOT NULL,
        hash TEXT NOT NULL, entries TEXT NOT NULL CHECK (json_valid(entries)), body BLOB NOT NULL,
        made_at TEXT NOT NULL, PRIMARY KEY (client, version, locale)) STRICT""",
    "CREATE TABLE attempts (key TEXT NOT NULL, at REAL NOT NULL) STRICT",
    "CREATE INDEX attempts_by_key ON attempts (key, at)",
)


@migrations()
def first_tables(db: sqlite_utils.Database) -> None:
    """Make every table, and draw the epoch and the key that signs cookies."""
    for statement in _FIRST_TABLES:
        db.execute(statement)
    db.execute("INSERT INTO settings (key, value) VALUES ('epoch', ?)", (token_hex(8),))
    db.execute("INSERT INTO settings (key, value) VALUES ('secret_key', ?)", (token_hex(32),))


@migrations()
def bounds_by_phone(db: sqlite_utils.Database) -> None:
    """Drop the table of failed tries, which are now counted in memory; add an index for a phone's amount in a day."""
    db.execute("DROP TABLE attempts")
    db.execute("ALTER TABLE invitations DROP COLUMN tries")
    db.execute("CREATE INDEX events_of_phone ON events (device, received_at)")
    db.execute("CREATE INDEX quarantine_of_phone ON quarantine (device, received_at)")


_WORKED_OUT = (
    """CREATE TABLE summaries (
        client INTEGER PRIMARY KEY REFERENCES clients (id), through_seq INTEGER NOT NULL, version INTEGER NOT NULL,
        told TEXT NOT NULL CHECK (json_valid(told))) STRICT""",
    """CREATE TABLE guidance (
        client INTEGER NOT NULL REFERENCES clients (id), locale TEXT NOT NULL, on_day TEXT NOT NULL,
        through_seq INTEGER NOT NULL, version INTEGER NOT NULL, bundle_hash TEXT NOT NULL,
        anchors TEXT NOT NULL CHECK (json_valid(anchors)), PRIMARY KEY (client, locale)) STRICT, WITHOUT ROWID""",
    # Bundles are made again when a phone needs them.
    "DELETE FROM bundles",
    "ALTER TABLE bundles ADD COLUMN rows BLOB NOT NULL DEFAULT x''",
)


@migrations()
def worked_out(db: sqlite_utils.Database) -> None:
    """Make the tables of two caches: the caseload's rows and the phones' anchors."""
    for statement in _WORKED_OUT:
        db.execute(statement)


@migrations()
def lives(db: sqlite_utils.Database) -> None:
    """Store in a database its life, the number of its acts, and the version numbers that a restore skips."""
    db.execute("INSERT INTO settings (key, value) VALUES ('life', ?), ('acts', '0')", (token_hex(8),))
    db.execute("ALTER TABLE clients ADD COLUMN epoch TEXT NOT NULL DEFAULT ''")
    db.execute("ALTER TABLE clients ADD COLUMN version_floor INTEGER NOT NULL DEFAULT 0")
    db.execute("ALTER TABLE devices ADD COLUMN to_confirm INTEGER NOT NULL DEFAULT 0")


@migrations()
def language_of_the_desk(db: sqlite_utils.Database) -> None:
    """Keep with each practitioner the language of the desk; "" until one is chosen."""
    db.execute("ALTER TABLE practitioners ADD COLUMN locale TEXT NOT NULL DEFAULT ''")


@migrations()
def reach_of_practitioners(db: sqlite_utils.Database) -> None:
    """Keep with each practitioner how clients reach them; "" where the practitioner has not said."""
    for column in ("telephone", "hours", "contact_email", "letters_read"):
        db.execute(f"ALTER TABLE practitioners ADD COLUMN {column} TEXT NOT NULL DEFAULT ''")


@migrations()
def screening(db: sqlite_utils.Database) -> None:
    """Add an index for the few entries of the screening: each sync and the caseload look at them."""
    db.execute(
        "CREATE INDEX events_of_screening ON events (client, seq)"
        " WHERE kind IN ('screening_answered', 'screening_cleared')"
    )


@migrations()
def consent(db: sqlite_utils.Database) -> None:
    """Keep with each phone the hash of the words that its client agreed to by joining; "" where the phone did not say."""
    db.execute("ALTER TABLE devices ADD COLUMN agreed TEXT NOT NULL DEFAULT ''")


@migrations()
def letters_apart(db: sqlite_utils.Database) -> None:
    """Make two small indexes, by which unread letters are counted without reading the whole log."""
    for kind in ("letter_written", "letter_seen"):
        db.execute(f"CREATE INDEX events_{kind} ON events (client, seq) WHERE kind = '{kind}'")


@migrations()
def feeds(db: sqlite_utils.Database) -> None:
    """Make the table of calendars that clients follow by a secret address, which is stored as a hash."""
    db.execute(
        "CREATE TABLE feeds (client INTEGER PRIMARY KEY REFERENCES clients(id), hash TEXT NOT NULL UNIQUE,"
        " times TEXT NOT NULL, sequence INTEGER NOT NULL, changed_at TEXT NOT NULL) STRICT"
    )

"""The tables, and how a file gets them. An applied migration is never edited; a change is a new one."""

from pathlib import Path
from secrets import token_hex

from sqlite_utils.migrations import Migrations

from webapp.records.database import Database, choose_journal, open_records, write

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
    # One for each client, version and language: two clients may well have bundles of the same content.
    """CREATE TABLE bundles (
        client INTEGER NOT NULL REFERENCES clients (id), version INTEGER NOT NULL, locale TEXT NOT NULL,
        hash TEXT NOT NULL, entries TEXT NOT NULL CHECK (json_valid(entries)), body BLOB NOT NULL,
        made_at TEXT NOT NULL, PRIMARY KEY (client, version, locale)) STRICT""",
    "CREATE TABLE attempts (key TEXT NOT NULL, at REAL NOT NULL) STRICT",
    "CREATE INDEX attempts_by_key ON attempts (key, at)",
)


@migrations()
def first_tables(db: Database) -> None:
    """Make every table, and draw the epoch and the key that signs cookies."""
    for statement in _FIRST_TABLES:
        db.execute(statement)
    db.execute("INSERT INTO settings (key, value) VALUES ('epoch', ?)", (token_hex(8),))
    db.execute("INSERT INTO settings (key, value) VALUES ('secret_key', ?)", (token_hex(32),))


@migrations()
def bounds_by_phone(db: Database) -> None:
    """Count failed tries in memory from here on, and let what one phone sent on a day be summed up quickly."""
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
    # Bundles are made again when they are asked for.
    "DELETE FROM bundles",
    "ALTER TABLE bundles ADD COLUMN rows BLOB NOT NULL DEFAULT x''",
)


@migrations()
def worked_out(db: Database) -> None:
    """Make the tables of what is worked out when something is written: the caseload's rows, the phones' anchors."""
    for statement in _WORKED_OUT:
        db.execute(statement)


def prepare_records(path: Path | str) -> None:
    """Bring a file up to date before it is served: journal, tables.

    Several processes may call this at once: the first does the work and the others wait.

    Args:
        path: The SQLite file; made if it is missing.
    """
    db = open_records(path)
    try:
        choose_journal(db)
        with write(db):
            migrations.apply(db)
    finally:
        db.conn.close()

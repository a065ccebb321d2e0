"""Whole clients, as they are carried out of the records and into other records."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from webapp.records.database import Database

_CLIENT = "public_id, name, locale, intake, created_at, ended_at"
_VERSION = "version, routine, settings, note, pushed_at, received_on, received_at"
_NOTE = "key, text, written_at, struck_at"
_OF_NOTES = " FROM private_notes WHERE client = ? ORDER BY id"
_ENTRY = "id, on_day, kind, device, device_seq, raw, hash, received_at"
_ENTRY_READ = _ENTRY.replace("raw", "CAST(raw AS BLOB) AS raw")


class WholeClient(NamedTuple):
    """A client, the routine versions (the oldest first), the entries (in stored order) and the private notes, as rows by column.

    An entry's `raw` is read as bytes, since damaged ones are no text. A note's `by` is the name of who wrote it.
    """

    client: Mapping[str, Any]
    versions: Sequence[Mapping[str, Any]]
    entries: Sequence[Mapping[str, Any]]
    notes: Sequence[Mapping[str, Any]]


def keys(db: Database, practitioner: int | None = None) -> list[int]:
    """List the keys of a practitioner's clients, the ended ones too; of every client for None."""
    rows = db.execute(
        "SELECT id FROM clients WHERE ?1 IS NULL OR practitioner = ?1 ORDER BY id", (practitioner,)
    ).fetchall()
    return [row[0] for row in rows]


def keys_of_practice(db: Database, practice: int) -> list[int]:
    """List the keys of the clients of everybody in a practice, the ended ones too."""
    rows = db.execute(
        "SELECT c.id FROM clients c JOIN practitioners p ON p.id = c.practitioner WHERE p.practice = ? ORDER BY c.id",
        (practice,),
    ).fetchall()
    return [row[0] for row in rows]


def still_here(db: Database, clients: Iterable[int]) -> Iterator[int]:
    """Yield those clients that are in the records when their turn comes; one may be deleted while a file of many is written."""
    for client in clients:
        if db.execute("SELECT 1 FROM clients WHERE id = ?", (client,)).fetchone():
            yield client


def whole(db: Database, client: int) -> WholeClient:
    """Return one client."""
    return WholeClient(
        whole_person(db, client),
        _rows(db, f"SELECT {_VERSION} FROM routine_versions WHERE client = ? ORDER BY version", client),
        _rows(db, f"SELECT {_ENTRY_READ} FROM events WHERE client = ? ORDER BY seq", client),
        _rows(
            db,
            f'SELECT {_NOTE}, (SELECT name FROM practitioners p WHERE p.id = written_by) AS "by"' + _OF_NOTES,
            client,
        ),
    )


def whole_person(db: Database, client: int) -> Mapping[str, Any]:
    """Return one client's own row."""
    return _rows(db, f"SELECT {_CLIENT} FROM clients WHERE id = ?", client)[0]


def known_ids(db: Database, public_ids: Collection[str], practitioner: int | None = None) -> dict[str, int]:
    """Return those public ids that a client of these records has, each with the client's key; of one practitioner where named."""
    rows = db.execute(
        "SELECT public_id, id FROM clients WHERE ?1 IS NULL OR practitioner = ?1", (practitioner,)
    ).fetchall()
    return {public_id: key for public_id, key in rows if public_id in public_ids}


def put(db: Database, practitioner: int, brought: WholeClient) -> None:
    """Store a client, inside a write, as one of a practitioner's; rows have the columns of `whole`."""
    client = db.execute(
        f"INSERT INTO clients (practitioner, {_CLIENT}) VALUES (?, {_marks(_CLIENT)}) RETURNING id",
        (practitioner, *_values(brought.client, _CLIENT)),
    ).fetchone()[0]
    for row in brought.versions:
        db.execute(
            f"INSERT INTO routine_versions (client, pushed_by, {_VERSION}) VALUES (?, ?, {_marks(_VERSION)})",
            (client, practitioner, *_values(row, _VERSION)),
        )
    db.conn.executemany(
        f"INSERT INTO events (client, seq, {_ENTRY}) VALUES (?, ?, {_marks(_ENTRY)})",
        [(client, seq, *_values(row, _ENTRY)) for seq, row in enumerate(brought.entries, 1)],
    )
    db.conn.executemany(
        "INSERT INTO private_notes (client, written_by, struck_by, key, text, written_at, struck_at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?)",
        [
            (client, practitioner, practitioner if row["struck_at"] else None, *_values(row, _NOTE))
            for row in brought.notes
        ],
    )


def _rows(db: Database, statement: str, client: int) -> list[dict[str, Any]]:
    found = db.execute(statement, (client,))
    names = [column[0] for column in found.description]
    return [dict(zip(names, row, strict=True)) for row in found.fetchall()]


def _marks(columns: str) -> str:
    return ", ".join("?" for _ in columns.split(","))


def _values(row: Mapping[str, Any], columns: str) -> tuple[Any, ...]:
    return tuple(row[name.strip()] for name in columns.split(","))

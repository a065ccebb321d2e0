"""Routine versions of a client: pushed once, never changed but for the day they were received."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records import acts
from webapp.records.database import Database, instant, write

# A restore goes on at the next hundred.
LEFT_OUT = 100
# A phone may tell of any number; one like this says nothing of how many there were.
BEYOND_BELIEF = 100_000_000


@dataclass(frozen=True)
class RoutineVersion:
    """One pushed version.

    Attributes:
        client, version: Which; versions count from 1 for each client, and never name two routines: a restore goes on
            at the next hundred, and a version stands above every one that a phone has told of.
        routine: The routine as its file would hold it.
        settings: mass_kg, height_m, sex, arms, weights_kg, usual, start_rungs, and weights as entered.
        note: The practitioner's words to the client.
        pushed_at, received_at: UTC text; received_at is None until a phone has it.
        pushed_by: The practitioner's id.
        received_on: The first local day on which a phone had it.
    """

    client: int
    version: int
    routine: Mapping[str, Any]
    settings: Mapping[str, Any]
    note: str
    pushed_at: str
    pushed_by: int
    received_on: str | None
    received_at: str | None


@dataclass(frozen=True)
class Pushed:
    """What the caseload shows of a client's routine.

    Attributes:
        version: The newest version pushed.
        received_at: When a phone had that version first, UTC text, or None.
        begun_on: The first local day on which a phone had any version, or None.
    """

    version: int
    received_at: str | None
    begun_on: str | None


_COLUMNS = "client, version, routine, settings, note, pushed_at, pushed_by, received_on, received_at"


def push(
    db: Database,
    client: int,
    routine: Mapping[str, Any],
    settings: Mapping[str, Any],
    note: str,
    by: int,
    now: datetime,
) -> RoutineVersion:
    """Store the next version of a client's routine, to be fetched by their phones.

    Args:
        db: The records.
        client: Whose routine.
        routine: As its file would hold it; already checked.
        settings: What the core needs of the client; already checked.
        note: Words that go with it.
        by: The practitioner.
        now: The instant of the call, with a zone.
    """
    with write(db):
        row = db.execute(
            "INSERT INTO routine_versions (client, version, routine, settings, note, pushed_at, pushed_by)"
            f" VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING {_COLUMNS}",
            (client, next_version(db, client), json.dumps(routine), json.dumps(settings), note, instant(now), by),
        ).fetchone()
        acts.note(db, acts.ROUTINE_PUSHED, str(row[1]))
    return _version(row)


def next_version(db: Database, client: int) -> int:
    """Return the number that the next version of a client's routine gets."""
    row = db.execute(
        "SELECT MAX(c.version_floor,"
        " COALESCE((SELECT MAX(version) FROM routine_versions WHERE client = ?1), 0)) FROM clients c WHERE c.id = ?1",
        (client,),
    ).fetchone()
    return max({int(row[0])} | told_versions(db, client)) + 1


def told_versions(db: Database, client: int) -> set[int]:
    """Return every version that the client's phones say they received, known here or not."""
    rows = db.execute(
        "SELECT DISTINCT version FROM (SELECT json_extract(raw, '$.body.version') AS version FROM events"
        " WHERE client = ? AND kind = 'routine_received') WHERE typeof(version) = 'integer' AND version < ?",
        (client, BEYOND_BELIEF),
    ).fetchall()
    return {row[0] for row in rows}


def leave_numbers(db: Database, given: int) -> int:
    """Leave out, for every client, the numbers that may have been given since this copy was made, inside a write.

    Args:
        db: The copy.
        given: A number that no version given since is above, as far as is known.

    Returns:
        The highest number that is left out now.
    """
    highest = given
    for (client,) in db.execute("SELECT id FROM clients").fetchall():
        floor = max(given, next_version(db, client) - 1) // LEFT_OUT * LEFT_OUT + LEFT_OUT
        db.execute("UPDATE clients SET version_floor = ? WHERE id = ?", (floor, client))
        highest = max(highest, floor)
    return highest


def of_client(db: Database, client: int) -> list[RoutineVersion]:
    """List a client's versions, newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? ORDER BY version DESC", (client,)
    ).fetchall()
    return [_version(row) for row in rows]


def latest(db: Database, client: int) -> RoutineVersion | None:
    """Give a client's newest version, or None before the first."""
    row = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? ORDER BY version DESC LIMIT 1", (client,)
    ).fetchone()
    return None if row is None else _version(row)


def newest_number(db: Database, client: int) -> int:
    """Return the number of a client's newest version, 0 before the first."""
    row = db.execute("SELECT COALESCE(MAX(version), 0) FROM routine_versions WHERE client = ?", (client,)).fetchone()
    return int(row[0])


def of_practitioner(db: Database, practitioner: int) -> dict[int, Pushed]:
    """Say for each of a practitioner's clients which version is the newest, and since when they follow a routine."""
    rows = db.execute(
        "SELECT v.client, v.version, v.received_at, known.begun FROM"
        " (SELECT client, MAX(version) AS newest, MIN(received_on) AS begun FROM routine_versions WHERE client IN"
        " (SELECT id FROM clients WHERE practitioner = ? AND ended_at IS NULL) GROUP BY client) AS known"
        " JOIN routine_versions v ON v.client = known.client AND v.version = known.newest",
        (practitioner,),
    ).fetchall()
    return {row[0]: Pushed(*row[1:]) for row in rows}


def find(db: Database, client: int, version: int) -> RoutineVersion | None:
    """Give one version of a client's routine, or None."""
    row = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? AND version = ?", (client, version)
    ).fetchone()
    return None if row is None else _version(row)


def note_received(db: Database, client: int, version: int, on_day: str, now: datetime) -> None:
    """Note that a phone has a version, inside a write; the earliest day stands, whatever comes later."""
    db.execute(
        "UPDATE routine_versions SET received_on = MIN(COALESCE(received_on, ?1), ?1),"
        " received_at = COALESCE(received_at, ?2) WHERE client = ?3 AND version = ?4",
        (on_day, instant(now), client, version),
    )


def _version(row: tuple[Any, ...]) -> RoutineVersion:
    client, version, routine, settings, *rest = row
    return RoutineVersion(client, version, json.loads(routine), json.loads(settings), *rest)

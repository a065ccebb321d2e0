"""The routine versions of a client: pushed once, and never changed, except for the day on which they were received."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from webapp.records import acts
from webapp.records.database import Database, instant, write

# After a restore the versions go on at the next hundred.
LEFT_OUT = 100
# A phone may send any number as a received version; a number from this bound on is ignored.
BEYOND_BELIEF = 100_000_000


class OvertakenError(Exception):
    """Another version was pushed or withdrawn since the practitioner looked."""


@dataclass(frozen=True)
class RoutineVersion:
    """A routine version that was pushed.

    Attributes:
        client: The client's key.
        version: The number, counted from 1 for each client. A number is never used for two routines: after a restore the
            numbers go on at the next hundred, and a new number is higher than every number that a phone has sent.
        routine: The routine, in the form of a routine file.
        settings: mass_kg, height_m, sex, arms, weights_kg, usual, start_rungs, and weights as entered.
        note: The practitioner's note to the client.
        pushed_at: The instant of the push, UTC text.
        received_at: The instant when a phone first had the version, UTC text, or None.
        pushed_by: The practitioner's key.
        received_on: The first local day on which a phone had the version, or None.
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

    def came_of(self, by: int, note: str | None) -> bool:
        """Whether a form with this note, sent by this practitioner, made this version; no phone has it yet."""
        return bool(note) and (self.pushed_by, self.note, self.received_at) == (by, note, None)


@dataclass(frozen=True)
class Pushed:
    """What the caseload shows of a client's routine.

    Attributes:
        version: The newest version that was pushed.
        received_at: The instant when a phone first had that version, UTC text, or None.
        begun_on: The first local day on which a phone had any version, or None.
        pushed_at: The instant of the push of the newest version, UTC text.
    """

    version: int
    received_at: str | None
    begun_on: str | None
    pushed_at: str


_COLUMNS = "client, version, routine, settings, note, pushed_at, pushed_by, received_on, received_at"


def set_nothing_by_hand(settings: Mapping[str, Any]) -> dict[str, Any]:
    """Return a version's settings for one that follows it: what was set by hand is not set again, each arm stays as it stands."""
    return {name: value for name, value in settings.items() if name != "eases"} | {"start_rungs": {}}


def push(
    db: Database,
    client: int,
    routine: Mapping[str, Any],
    settings: Mapping[str, Any],
    note: str,
    by: int,
    now: datetime,
) -> RoutineVersion:
    """Store the next version of a client's routine; the client's phones get it at their next sync.

    Args:
        db: The records.
        client: The client's key.
        routine: The routine in the form of a routine file; already checked.
        settings: What the core needs to know about the client; already checked.
        note: The practitioner's note to the client.
        by: The practitioner's key.
        now: The instant of the call, with a zone.
    """
    with write(db):
        return put(db, client, routine, settings, note, by, now)


def check_follows(db: Database, client: int, seen: RoutineVersion | None) -> None:
    """Check, inside the write of a push, that a client's newest version is still the one that the practitioner saw.

    Raises:
        OvertakenError: It is another one.
    """
    newest = latest(db, client)
    if (newest and newest.version) != (seen and seen.version):
        raise OvertakenError


def put(
    db: Database,
    client: int,
    routine: Mapping[str, Any],
    settings: Mapping[str, Any],
    note: str,
    by: int,
    now: datetime,
) -> RoutineVersion:
    """Store the next version inside a write; the arguments are those of `push`."""
    row = db.execute(
        "INSERT INTO routine_versions (client, version, routine, settings, note, pushed_at, pushed_by)"
        f" VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) RETURNING {_COLUMNS}",
        (client, next_version(db, client), json.dumps(routine), json.dumps(settings), note, instant(now), by),
    ).fetchone()
    acts.note(db, acts.ROUTINE_PUSHED, str(row[1]))
    return _version(row)


def next_version(db: Database, client: int) -> int:
    """Return the number of the next version of a client's routine."""
    row = db.execute(
        "SELECT MAX(c.version_floor,"
        " COALESCE((SELECT MAX(version) FROM routine_versions WHERE client = ?1), 0)) FROM clients c WHERE c.id = ?1",
        (client,),
    ).fetchone()
    return max({int(row[0])} | received_versions(db, client)) + 1


def received_versions(db: Database, client: int) -> set[int]:
    """Return all versions that the client's phones say they received, including versions that are not stored here."""
    rows = db.execute(
        "SELECT DISTINCT version FROM (SELECT json_extract(CASE WHEN json_valid(raw) THEN raw END, '$.body.version') AS version FROM events"
        " WHERE client = ? AND kind = 'routine_received') WHERE typeof(version) = 'integer' AND version < ?",
        (client, BEYOND_BELIEF),
    ).fetchall()
    return {row[0] for row in rows}


def skip_numbers(db: Database, bound: int) -> int:
    """Skip, for every client, the version numbers that may have been used after this copy was made; inside a write.

    Args:
        db: The copy.
        bound: The highest version number that is known to have been used since.

    Returns:
        The highest number that is skipped.
    """
    highest = bound
    for (client,) in db.execute("SELECT id FROM clients").fetchall():
        floor = max(highest, next_version(db, client) - 1) // LEFT_OUT * LEFT_OUT + LEFT_OUT
        db.execute("UPDATE clients SET version_floor = ? WHERE id = ?", (floor, client))
        highest = max(highest, floor)
    return highest


def of_client(db: Database, client: int) -> list[RoutineVersion]:
    """List a client's versions, the newest first."""
    rows = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? ORDER BY version DESC", (client,)
    ).fetchall()
    return [_version(row) for row in rows]


def latest(db: Database, client: int) -> RoutineVersion | None:
    """Return a client's newest version, or None before the first version."""
    row = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? ORDER BY version DESC LIMIT 1", (client,)
    ).fetchone()
    return None if row is None else _version(row)


def newest_number(db: Database, client: int) -> int:
    """Return the number of a client's newest version, 0 before the first version."""
    row = db.execute("SELECT COALESCE(MAX(version), 0) FROM routine_versions WHERE client = ?", (client,)).fetchone()
    return int(row[0])


def of_practitioner(db: Database, practitioner: int) -> dict[int, Pushed]:
    """Return, for each of a practitioner's clients, the newest version and the first day of a routine."""
    rows = db.execute(
        "SELECT v.client, v.version, v.received_at, known.begun, v.pushed_at FROM"
        " (SELECT client, MAX(version) AS newest, MIN(received_on) AS begun FROM routine_versions WHERE client IN"
        " (SELECT id FROM clients WHERE practitioner = ? AND ended_at IS NULL) GROUP BY client) AS known"
        " JOIN routine_versions v ON v.client = known.client AND v.version = known.newest",
        (practitioner,),
    ).fetchall()
    return {row[0]: Pushed(*row[1:]) for row in rows}


def tunings_of_practitioner(db: Database, practitioner: int) -> list[tuple[str, dict[str, Any]]]:
    """Return the name and the tuning of the newest routine of each of a practitioner's clients, by name."""
    rows = db.execute(
        "SELECT c.name, MAX(v.version), json_extract(v.routine, '$.tuning') FROM clients c"
        " JOIN routine_versions v ON v.client = c.id WHERE c.practitioner = ? AND c.ended_at IS NULL"
        " GROUP BY c.id ORDER BY c.name COLLATE NOCASE, c.id",
        (practitioner,),
    ).fetchall()
    return [(row[0], json.loads(row[2] or "{}")) for row in rows]


def titles_of_practitioner(db: Database, practitioner: int) -> dict[int, str]:
    """Return the title of the newest routine of each of a practitioner's clients, by the client's key."""
    rows = db.execute(
        "SELECT v.client, MAX(v.version), json_extract(v.routine, '$.title') FROM routine_versions v"
        " JOIN clients c ON c.id = v.client WHERE c.practitioner = ? AND c.ended_at IS NULL GROUP BY v.client",
        (practitioner,),
    ).fetchall()
    return {row[0]: str(row[2]) for row in rows}


def find(db: Database, client: int, version: int) -> RoutineVersion | None:
    """Return one version of a client's routine, or None."""
    row = db.execute(
        f"SELECT {_COLUMNS} FROM routine_versions WHERE client = ? AND version = ?", (client, version)
    ).fetchone()
    return None if row is None else _version(row)


def note_received(db: Database, client: int, version: int, on_day: str, now: datetime) -> None:
    """Store, inside a write, that a phone has a version; the earliest day is kept."""
    db.execute(
        "UPDATE routine_versions SET received_on = MIN(COALESCE(received_on, ?1), ?1),"
        " received_at = COALESCE(received_at, ?2) WHERE client = ?3 AND version = ?4",
        (on_day, instant(now), client, version),
    )


def _version(row: tuple[Any, ...]) -> RoutineVersion:
    client, version, routine, settings, *rest = row
    return RoutineVersion(client, version, json.loads(routine), json.loads(settings), *rest)

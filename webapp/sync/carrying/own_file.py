"""Our own file of clients: JSON, versioned, complete but for what belongs to one server.

    {"format": "halfturn-records", "version": 1, "made_at": "2026-03-09T09:30:00.000Z", "clients": [
    {"client": {...}, "versions": [...], "entries": [{"device": ..., "received_at": ..., "entry": {...}}, ...],
     "notes": [...]}
    ]}

`client` holds id, name, locale, intake, created_at, ended_at (null while current). A version holds version, routine,
settings, note, pushed_at, received_on, received_at. `entry` is an entry of the log as it was sent. A note of
the practice holds key, text, by (the name of who wrote it), written_at and struck_at. Not in the file: phones,
invitations, sign-ins, passwords, refused entries, and whatever is worked out from the log.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

import msgspec

from webapp.records import carrying
from webapp.records.carrying import WholeClient
from webapp.records.database import Database, instant

FORMAT, VERSION = "halfturn-records", 1


class CarriedPerson(msgspec.Struct, forbid_unknown_fields=True):
    """Who the client is; `intake` is as the intake form stores it."""

    id: str
    name: str
    locale: str
    intake: dict[str, Any]
    created_at: str
    ended_at: str | None = None


class CarriedVersion(msgspec.Struct, forbid_unknown_fields=True):
    """One routine version."""

    version: int
    routine: dict[str, Any]
    settings: dict[str, Any]
    note: str
    pushed_at: str
    received_on: str | None = None
    received_at: str | None = None


class CarriedEntry(msgspec.Struct, forbid_unknown_fields=True):
    """One entry of the log, the device that wrote it, and when the server got it."""

    device: str
    received_at: str
    entry: msgspec.Raw


class CarriedNote(msgspec.Struct, forbid_unknown_fields=True):
    """A private note of the practice; `by` is the name of who wrote it."""

    key: str
    text: str
    by: str
    written_at: str
    struck_at: str | None = None


class DamagedEntry(msgspec.Struct, forbid_unknown_fields=True):
    """An entry whose JSON was damaged in the records, as far as it can be written as text."""

    device: str
    received_at: str
    text: str


class CarriedClient(msgspec.Struct, forbid_unknown_fields=True, omit_defaults=True):
    """One client of the file. `damaged` is missing where nothing is damaged; a client with such entries is not taken in."""

    client: CarriedPerson
    versions: list[CarriedVersion]
    entries: list[CarriedEntry]
    notes: list[CarriedNote]
    damaged: list[DamagedEntry] = msgspec.field(default_factory=list)


class CarriedFile(msgspec.Struct, forbid_unknown_fields=True):
    """The whole file; each client is decoded apart, so that every fault is found."""

    format: str
    version: int
    made_at: str
    clients: list[msgspec.Raw]


def write_file(db: Database, clients: Sequence[int], now: datetime) -> Iterator[bytes]:
    """Write the file piece by piece; only one client is in memory at a time.

    Args:
        db: The records.
        clients: The clients' keys.
        now: The instant of the call, with a zone.
    """
    head = {"format": FORMAT, "version": VERSION, "made_at": instant(now)}
    yield msgspec.json.encode(head)[:-1] + b',"clients":[\n'
    for number, client in enumerate(carrying.still_here(db, clients)):
        yield (b",\n" if number else b"") + msgspec.json.encode(as_carried(carrying.whole(db, client)))
    yield b"\n]}\n"


def as_carried(found: WholeClient) -> CarriedClient:
    """Return a client as the file holds it."""
    person = {**found.client, "id": found.client["public_id"], "intake": msgspec.json.decode(found.client["intake"])}
    whole = [row for row in found.entries if _is_json(row["raw"])]
    damaged = [row for row in found.entries if not _is_json(row["raw"])]
    return CarriedClient(
        CarriedPerson(**{name: person[name] for name in CarriedPerson.__struct_fields__}),
        [CarriedVersion(**_read_version(row)) for row in found.versions],
        [CarriedEntry(row["device"], row["received_at"], msgspec.Raw(row["raw"])) for row in whole],
        [CarriedNote(**row) for row in found.notes],
        [DamagedEntry(row["device"], row["received_at"], _as_text(row["raw"])) for row in damaged],
    )


def _is_json(raw: bytes) -> bool:
    try:
        msgspec.json.decode(raw)
    except (msgspec.DecodeError, UnicodeDecodeError):
        return False
    return True


def _as_text(raw: bytes) -> str:
    return raw.decode(errors="backslashreplace")


def _read_version(row: Mapping[str, Any]) -> dict[str, Any]:
    return {**row, "routine": msgspec.json.decode(row["routine"]), "settings": msgspec.json.decode(row["settings"])}

"""Takes our own file into these records: everything is checked first, every fault is named, and all of it is stored or nothing."""

from collections.abc import Iterator
from typing import NamedTuple

import msgspec

from webapp.records import carrying, practitioners
from webapp.records.carrying import WholeClient
from webapp.records.database import Database, write
from webapp.sync.carrying.checking import FileFaults, read_clients
from webapp.sync.carrying.own_file import CarriedClient, CarriedEntry, CarriedNote, as_carried
from webapp.sync.carrying.own_movements import bring_movements
from webapp.sync.log.take import content_hash


class KnownClient(NamedTuple):
    """A client of a file who is here already, with this practitioner: the name here, and how the two differ.

    Attributes:
        only_there: Entries that only the file has.
        only_here: Entries that only these records have.
        is_otherwise: Whether name, intake, routine versions or notes differ.
    """

    name: str
    only_there: int
    only_here: int
    is_otherwise: bool

    @property
    def is_same(self) -> bool:
        """Whether file and records say the same."""
        return not (self.only_there or self.only_here or self.is_otherwise)


class FileLook(NamedTuple):
    """What a file would do: the names of the new clients, the known ones, the names of those who are here with somebody else."""

    new: tuple[str, ...]
    known: tuple[KnownClient, ...]
    elsewhere: tuple[str, ...]


def look(db: Database, practitioner: int, raw: bytes, file: str = "") -> FileLook:
    """Say what a file would do; nothing is stored.

    Args:
        db: The records.
        practitioner: The practitioner's key, into whose caseload the clients would come.
        raw: The bytes of the file.
        file: Its name, for faults.

    Raises:
        NotAcceptedError: With the faults.
    """
    clients = read_clients(raw, FileFaults(file))
    ids = [each.client.id for each in clients]
    here, own = carrying.known_ids(db, ids), carrying.known_ids(db, ids, practitioner)
    return FileLook(
        tuple(each.client.name for each in clients if each.client.id not in here),
        tuple(_compared(db, own[each.client.id], each) for each in clients if each.client.id in own),
        tuple(each.client.name for each in clients if each.client.id in here and each.client.id not in own),
    )


def _compared(db: Database, key: int, there: CarriedClient) -> KnownClient:
    found = carrying.whole(db, key)
    ours, theirs = {row["id"] for row in found.entries}, {_entry_id(each) for each in there.entries}
    first, second = (
        msgspec.json.encode([each.client, each.versions, _notes_of(each)], order="deterministic")
        for each in (as_carried(found), there)
    )
    return KnownClient(found.client["name"], len(theirs - ours), len(ours - theirs), first != second)


def _notes_of(client: CarriedClient) -> list[tuple[str, str]]:
    return sorted((note.key, note.struck_at or "") for note in client.notes)


def _entry_id(entry: CarriedEntry) -> str:
    return str(msgspec.json.decode(entry.entry).get("id"))


def bring_in(db: Database, practitioner: int, raw: bytes, file: str = "", *, leaves_known: bool = False) -> list[str]:
    """Take a file of clients into a practitioner's caseload.

    Args:
        db: The records.
        practitioner: The practitioner's key.
        raw: The bytes of the file.
        file: Its name, for faults.
        leaves_known: Whether clients who are here already are left as they are; else each of them is a fault.

    Returns:
        The public ids of the clients that were brought in.

    Raises:
        NotAcceptedError: With the faults; nothing was stored.
    """
    faults = FileFaults(file)
    clients = read_clients(raw, faults)
    with write(db):
        known = carrying.known_ids(db, [each.client.id for each in clients])
        for public_id in () if leaves_known else sorted(known):
            faults.add("client.id", public_id, "here_already")
        faults.settle()
        new = [each for each in clients if each.client.id not in known]
        me = practitioners.find(db, practitioner)
        for client in new:
            carrying.put(db, practitioner, _whole(client, me.name))
            bring_movements(db, me.practice, client.versions)
    return [client.client.id for client in new]


def _whole(carried: CarriedClient, by: str) -> WholeClient:
    person = msgspec.to_builtins(carried.client)
    versions = [
        {**msgspec.to_builtins(each), "routine": _text(each.routine), "settings": _text(each.settings)}
        for each in carried.versions
    ]
    return WholeClient(
        {**person, "public_id": person["id"], "intake": _text(person["intake"])},
        versions,
        list(_entries(carried)),
        [_note(note, by) for note in carried.notes],
    )


def _note(note: CarriedNote, by: str) -> dict[str, object]:
    """Return a note as it is kept here; who wrote it elsewhere stands in its text, since nobody here did."""
    text = note.text if note.by == by else f"{note.text}\n({note.by})"
    return {**msgspec.to_builtins(note), "text": text}


def _entries(carried: CarriedClient) -> Iterator[dict[str, object]]:
    for each in carried.entries:
        sent = msgspec.json.decode(each.entry)
        yield {
            "id": sent["id"],
            "on_day": sent["on"],
            "kind": sent["kind"],
            "device": each.device,
            "device_seq": sent["seq"],
            "raw": bytes(each.entry).decode(),
            "hash": content_hash(sent),
            "received_at": each.received_at,
        }


def _text(mapping: object) -> str:
    return msgspec.json.encode(mapping).decode()

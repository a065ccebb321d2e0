"""Checks our own file of clients before anything of it is taken: every fault of every client is named."""

import re
from collections.abc import Callable
from datetime import UTC, date, datetime

import msgspec

from webapp.dosing.faults import number_fault
from webapp.dosing.settings import SEXES
from webapp.events.codec import decode
from webapp.events.kinds import FIRST_DAY, LAST_DAY, EventError
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.library.shelf import the_shelf
from webapp.records.database import instant
from webapp.records.routines import BEYOND_BELIEF
from webapp.sync.bundle.bundle import prescribed
from webapp.sync.carrying.own_file import FORMAT, VERSION, CarriedClient, CarriedEntry, CarriedFile, CarriedVersion
from webapp.sync.case.told_intake import TOLD_LATER
from webapp.sync.log.take import MOST_BYTES

LONGEST_NAME = 80
LONGEST_NOTE = 600
LONGEST_TEXT = 20_000
MOST_ENTRIES = 100_000
MOST_FAULTS = 200
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}\Z")
_LOCALE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*\Z")
ARMS = ("right", "left")


class FileFaults:
    """Collects the faults of a file, up to a number that a person can read."""

    def __init__(self, file: str) -> None:
        self.file, self.found = file, list[FileFault]()

    def add(self, where: str, value: object, code: str, *rule: object) -> None:
        """Add a fault: where in the file, the value, the code and the operands of its rule."""
        if len(self.found) < MOST_FAULTS:
            shown = value if isinstance(value, (int, float, str)) else None
            self.found.append(FileFault(self.file, None, where, shown, code, rule))

    def settle(self) -> None:
        """Raise a NotAcceptedError where there is a fault."""
        if self.found:
            raise NotAcceptedError(self.found)


def read_clients(raw: bytes, faults: FileFaults) -> list[CarriedClient]:
    """Read a file of clients.

    Args:
        raw: The bytes of the file.
        faults: Collects the faults.

    Raises:
        NotAcceptedError: With every fault of every client.
    """
    try:
        whole = msgspec.json.decode(raw, type=CarriedFile)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        faults.add("file", None, "not_ours", str(error))
        faults.settle()
        raise
    if (whole.format, whole.version) != (FORMAT, VERSION):
        faults.add("format", f"{whole.format} {whole.version}", "other_format", FORMAT, VERSION)
    clients = []
    for number, each in enumerate(whole.clients, 1):
        try:
            clients.append(msgspec.json.decode(each, type=CarriedClient))
        except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
            faults.add(f"clients[{number}]", None, "not_ours", str(error))
    for number, client in enumerate(clients, 1):
        _check(client, f"clients[{number}]", faults)
    ids = [client.client.id for client in clients]
    for public_id in sorted({each for each in ids if ids.count(each) > 1}):
        faults.add("client.id", public_id, "twice")
    faults.settle()
    return clients


def _check(client: CarriedClient, where: str, faults: FileFaults) -> None:
    person = client.client
    rules: tuple[tuple[str, object, bool], ...] = (
        ("id", person.id, bool(_ID.match(person.id))),
        ("name", person.name, len(person.name.strip()) > 0 and len(person.name) <= LONGEST_NAME),
        ("locale", person.locale, bool(_LOCALE.match(person.locale))),
        ("created_at", person.created_at, _is_instant(person.created_at)),
        ("ended_at", person.ended_at, person.ended_at is None or _is_instant(person.ended_at)),
        ("intake", None, is_intake(person.intake)),
    )
    for name, value, holds in rules:
        if not holds:
            faults.add(f"{where}.client.{name}", value, "not_fitting")
    _check_versions(client.versions, where, faults)
    _check_entries(client.entries, where, faults)
    for number, each in enumerate(client.damaged, 1):
        faults.add(f"{where}.damaged[{number}]", each.text[:80], "not_fitting")
    keys = [note.key for note in client.notes]
    for number, note in enumerate(client.notes, 1):
        instants = [note.written_at] if note.struck_at is None else [note.written_at, note.struck_at]
        fits = _ID.match(note.key) and len(note.text) <= LONGEST_TEXT and len(note.by) <= LONGEST_NAME
        if not fits or not all(map(_is_instant, instants)) or keys.count(note.key) > 1:
            faults.add(f"{where}.notes[{number}]", note.key, "not_fitting")


def is_intake(intake: dict[str, object]) -> bool:
    """Whether a mapping can be the intake of a client: what the pages read of it is there and fits."""
    if intake.get("by_client"):
        # The client tells it on the phone, so nothing is known yet.
        return all(intake.get(name, empty) == empty for name, empty in TOLD_LATER.items() if name != "by_client")
    arms, weights, rungs = intake.get("arms"), intake.get("weights"), intake.get("start_rungs", {})
    return (
        intake.get("area") in the_shelf().areas
        and isinstance(arms, list)
        and bool(arms)
        and len(arms) == len(set(map(str, arms)))
        and all(arm in ARMS for arm in arms)
        and isinstance(weights, list)
        and all(
            isinstance(each, dict) and each.get("unit") in ("kg", "lb") and _is_number(each.get("value"))
            for each in weights
        )
        and isinstance(rungs, dict)
        and all(arm in ARMS and _is_number(rung) for arm, rung in rungs.items())
        and _is_number(intake.get("usual"))
        and _is_body(intake)
        and isinstance(intake.get("note", ""), str)
    )


def _is_body(intake: dict[str, object]) -> bool:
    """Whether body mass, height and sex fit the core's bounds; a push takes them from here."""
    sizes = [number_fault(name, intake.get(name)) for name in ("mass_kg", "height_m")]
    return intake.get("sex") in SEXES and not any(sizes)


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value <= 1000  # noqa: PLR2004


def _check_versions(versions: list[CarriedVersion], where: str, faults: FileFaults) -> None:
    numbers = [each.version for each in versions]
    if numbers != sorted(set(numbers)) or not all(0 < number < BEYOND_BELIEF for number in numbers):
        faults.add(f"{where}.versions", str(numbers[:10]), "not_rising")
    for each in versions:
        at = f"{where}.versions.{each.version}"
        try:
            prescribed(each.routine, each.settings, 1)
        except NotAcceptedError as error:
            for fault in error.faults:
                faults.add(f"{at}.{fault.key}", fault.value, fault.code, *fault.rule)
        except (TypeError, ValueError, KeyError, AttributeError):
            faults.add(at, None, "not_fitting")
        days = (
            each.received_on is None or _is_day(each.received_on),
            each.received_at is None or _is_instant(each.received_at),
        )
        if not (all(days) and _is_instant(each.pushed_at) and len(each.note) <= LONGEST_NOTE):
            faults.add(at, None, "not_fitting")


def _check_entries(entries: list[CarriedEntry], where: str, faults: FileFaults) -> None:
    if len(entries) > MOST_ENTRIES:
        faults.add(f"{where}.entries", len(entries), "too_many", MOST_ENTRIES)
        return
    seen: set[str] = set()
    for number, each in enumerate(entries, 1):
        at = f"{where}.entries[{number}]"
        if not _ID.match(each.device) or not _is_instant(each.received_at) or len(bytes(each.entry)) > MOST_BYTES:
            faults.add(at, each.device, "not_fitting")
        try:
            event = decode(msgspec.json.decode(each.entry))
        except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
            # The file as a whole was read without a look into its entries.
            faults.add(at, None, "not_fitting")
            continue
        except EventError as error:
            faults.add(f"{at}.{error.field}", str(error.value)[:80], "not_an_entry", error.rule)
            continue
        if event.id in seen:
            faults.add(f"{at}.id", event.id, "twice")
        if not FIRST_DAY <= event.on <= LAST_DAY:
            faults.add(f"{at}.on", event.on.isoformat(), "not_a_day", FIRST_DAY.isoformat(), LAST_DAY.isoformat())
        seen.add(event.id)


def _is_instant(text: str) -> bool:
    return _holds(lambda: instant(datetime.fromisoformat(text)) == text and datetime.fromisoformat(text).tzinfo == UTC)


def _is_day(text: str) -> bool:
    return _holds(lambda: date.fromisoformat(text).isoformat() == text)


def _holds(check: Callable[[], bool]) -> bool:
    try:
        return check()
    except (ValueError, OverflowError):
        return False

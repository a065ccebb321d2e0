"""The checks of the records: the file itself, the logs, and the caches that are computed from the logs.

Knows no command line. To add a check, add it to `CHECKS`; a check yields a `Trouble` for each fault.
"""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

import msgspec

from webapp.config import program_hash
from webapp.records import derived, events, folded, integrity, routines
from webapp.records.database import Database
from webapp.records.faults import RecordsError
from webapp.sync.caseload import summary
from webapp.sync.folding.checkpoint import read_reached
from webapp.sync.folding.fold import read_course
from webapp.sync.folding.switch import Progress
from webapp.sync.log.take import content_hash


@dataclass(frozen=True)
class Trouble:
    """A fault in the records.

    Attributes:
        code: A stable code; its sentence is in `webapp/words/upkeep.py`.
        gaps: The values for the sentence.
    """

    code: str
    gaps: dict[str, object]


Check = Callable[[Database], Iterator[Trouble]]


def _pages(db: Database) -> Iterator[Trouble]:
    for fault in integrity.faults(db):
        yield Trouble("pages", {"told": fault})


def _references(db: Database) -> Iterator[Trouble]:
    for table, row, parent in integrity.dangling(db):
        yield Trouble("references", {"table": table, "row": row, "parent": parent})


def _numbering(db: Database) -> Iterator[Trouble]:
    for client, count, newest in integrity.gaps_in_logs(db):
        yield Trouble("numbering", {"client": client, "count": count, "newest": newest})


def _contents(db: Database) -> Iterator[Trouble]:
    for client in integrity.clients(db):
        for event, kept in events.with_hashes(db, client):
            if _hash(event.raw) != kept:
                yield Trouble("contents", {"client": client, "id": event.id})


def _hash(raw: str) -> str:
    try:
        return content_hash(msgspec.json.decode(raw))
    except msgspec.DecodeError:
        return hashlib.sha256(raw.encode()).hexdigest()


def _folds(db: Database) -> Iterator[Trouble]:
    if derived.maker(db) != program_hash():
        return  # Another program made these caches; they are dropped before anything reads them.
    for client in integrity.clients(db):
        kept = folded.find(db, client)
        if kept is None or kept.through_seq != events.newest_seq(db, client):
            continue
        course, day = read_course(db, client, events.of_client(db, client)), date.fromisoformat(kept.day)
        start = course.first_day(day)
        anew = {arm: course.run(arm, None, start, day)[1] for arm in course.arms()}
        if _positions(kept.accounts) != {arm: progress for arm, progress in anew.items() if progress is not None}:
            yield Trouble("folds", {"client": client, "day": kept.day})


def _positions(accounts: str) -> dict[str, Progress] | None:
    try:
        return {arm: reached.progress for arm, reached in read_reached(accounts).items()}
    except msgspec.MsgspecError:
        return None


def _summaries(db: Database) -> Iterator[Trouble]:
    if derived.maker(db) == program_hash():
        for public_id in summary.that_differ(db):
            yield Trouble("summaries", {"client": public_id})


def _receipts(db: Database) -> Iterator[Trouble]:
    for client in integrity.clients(db):
        versions = routines.received_versions(db, client)
        for version in routines.of_client(db, client):
            if version.received_on and version.version not in versions:
                yield Trouble("receipts", {"client": client, "version": version.version})


CHECKS: tuple[Check, ...] = (_pages, _references, _numbering, _contents, _folds, _summaries, _receipts)


def troubles(db: Database) -> list[Trouble]:
    """Run every check; if the file itself is damaged, the other checks are skipped."""
    found = list(_pages(db))
    return found or [each for check in CHECKS[1:] for each in check(db)]


def look(db: Database) -> None:
    """Run every check, as on a copy.

    Raises:
        RecordsError: `unsound`; it names the number of faults and the first fault.
    """
    found = troubles(db)
    if found:
        first = found[0]
        reason = " ".join([first.code, *(str(value) for value in first.gaps.values())])
        raise RecordsError("unsound", path=db.path, count=len(found), first=reason)

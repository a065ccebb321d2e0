"""The checks of the records: the file itself, the logs, and the caches that are computed from the logs.

Knows no command line. To add a check, add it to `CHECKS`; a check yields a `Trouble` for each fault.
"""

import hashlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

import msgspec

from webapp.config import program_hash
from webapp.events.kinds import FIRST_DAY, LAST_DAY
from webapp.records import derived, events, folded, integrity, routines
from webapp.records.database import Database
from webapp.records.faults import RecordsError
from webapp.records.folded import Folded
from webapp.sync.caseload import summary
from webapp.sync.folding.checkpoint import FAULTS_OF_A_FOLD, read_checkpoint
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
        for id_, raw, kept in events.with_hashes(db, client):
            if _hash(raw) != kept:
                yield Trouble("contents", {"client": client, "id": id_})


def _hash(raw: bytes) -> str:
    try:
        return content_hash(msgspec.json.decode(raw))
    except (msgspec.DecodeError, UnicodeDecodeError):
        return hashlib.sha256(raw).hexdigest()


def _folds(db: Database) -> Iterator[Trouble]:
    # Caches that another program made are dropped before anything reads them.
    is_ours = derived.maker(db) == program_hash()
    for client in integrity.clients(db):
        kept = folded.find(db, client) if is_ours else None
        try:
            yield from _fold(db, client, kept)
        except FAULTS_OF_A_FOLD as fault:
            yield Trouble("unreadable", {"client": client, "why": f"{type(fault).__name__}: {fault}"})


def _fold(db: Database, client: int, kept: Folded | None) -> Iterator[Trouble]:
    """Fold a log up to its last entry or its checkpoint, and compare it with the checkpoint if that is in use."""
    course, newest = read_course(db, client, events.of_client(db, client)), events.newest_seq(db, client)
    is_in_use = kept is not None and kept.through_seq == newest
    last = kept.day if kept and is_in_use else events.last_day(db, client, LAST_DAY.isoformat())
    day = date.fromisoformat(last or FIRST_DAY.isoformat())
    start = course.first_day(day)
    anew = {arm: course.run(arm, None, start, day)[1] for arm in course.arms()}
    known = {arm: progress for arm, progress in anew.items() if progress is not None}
    if kept and is_in_use and _positions(kept.accounts) != known:
        yield Trouble("folds", {"client": client, "day": kept.day})


def _positions(accounts: str) -> dict[str, Progress] | None:
    try:
        return {arm: reached.progress for arm, reached in read_checkpoint(accounts).arms.items()}
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

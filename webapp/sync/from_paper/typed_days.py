"""What a paper diary says of a client's days, beside what the log says of them already.

Of two reports of one morning or session the worse counts, whoever sent it. So a worse number on paper is added beside a
phone's, and a better one changes nothing; both are named. The work of a session that a phone knows is counted once. What
the practice typed in earlier may be typed anew; then a correction names the entry that it replaces.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, NamedTuple

from webapp.events.daybook import corrected_entries
from webapp.events.kinds import Event
from webapp.records import events
from webapp.records.database import Database
from webapp.sync.log import practice_events
from webapp.sync.log.diary import entries_of

WHOLE_PER_CENT = 100
OF_DAYS = ("session_finished", "morning_reported", "exposure_noted", "warning_raised")


class Said(NamedTuple):
    """What is said of one arm on one day; None, or False, where nothing is said.

    Attributes:
        morning: The pain of that day's own morning, 0 to 10.
        worst: The worst discomfort in a session, 0 to 10.
        done: How much of the session was done, per cent; None without a session.
        sharp: Whether there was sharp pain that day.
    """

    morning: int | None = None
    worst: int | None = None
    done: int | None = None
    sharp: bool = False

    @property
    def has_session(self) -> bool:
        """Whether anything is said that belongs into the entry of a session."""
        return self.done is not None or self.worst is not None or self.sharp


NOTHING = Said()
Days = Mapping[date, Mapping[str, Said]]


@dataclass(frozen=True)
class OnRecord:
    """What the log says of some days.

    Attributes:
        phones: By day and arm, what phones said.
        typed: By day and arm, what the practice typed in.
        sport: Minutes of sport by day that the practice typed in.
        seal: A hash of the entries of these days; it changes when one is added or corrected.
    """

    phones: Days = field(default_factory=dict)
    typed: Days = field(default_factory=dict)
    sport: Mapping[date, int] = field(default_factory=dict)
    seal: str = ""


class Collision(NamedTuple):
    """A number on paper that the log has otherwise: the day, the arm, the field of `Said`, both values, and who said it."""

    on: date
    arm: str
    part: str
    on_paper: Any
    on_record: Any
    by_phone: bool

    @property
    def counts(self) -> Any:
        """The value that counts: the worse one; how much was done stays as it is on record."""
        is_paper_s = self.part != "done" and is_worse(self.on_paper, self.on_record)
        return self.on_paper if is_paper_s else self.on_record


def on_record(db: Database, client: int, first: date, last: date) -> OnRecord:
    """Return what a client's log says of the days from `first` to `last`."""
    logged = events.since_day(db, client, first.isoformat())
    by_practice = {stored.id for stored in logged if stored.device == practice_events.DEVICE}
    decoded = entries_of(logged)
    known = [each for each in corrected_entries(decoded) if each.kind in OF_DAYS and first <= each.on <= last]
    typed = [each for each in known if each.id in by_practice]
    sport = {each.on: each.body.get("minutes") or 0 for each in typed if each.kind == "exposure_noted"}
    fixes = {each.body.get("replaces"): each.id for each in decoded if each.kind == "entry_corrected"}
    marks = sorted((each.id, fixes.get(each.id, "")) for each in decoded if each.on <= last and each.kind in OF_DAYS)
    return OnRecord(
        _days([each for each in known if each.id not in by_practice]),
        _days(typed),
        sport,
        hashlib.sha256(repr(marks).encode()).hexdigest(),
    )


def _days(entries: Iterable[Event]) -> dict[date, dict[str, Said]]:
    found: dict[date, dict[str, Said]] = {}
    for event in entries:
        if event.kind not in ("session_finished", "morning_reported"):
            continue
        for arm, report in event.body["arms"].items():
            arms = found.setdefault(event.on, {})
            arms[arm] = _with(arms.get(arm, NOTHING), event.kind, report)
    return found


def _with(said: Said, kind: str, report: Mapping[str, Any]) -> Said:
    if kind == "morning_reported":
        return said._replace(morning=_worse(said.morning, report.get("pain")))
    shares = [each["share"] for each in report["sets"] if each["reps"]]
    done = said.done if not shares else (said.done or 0) + report.get("typed_done", max(shares) // 10)
    return said._replace(
        worst=_worse(said.worst, report.get("worst")), done=done, sharp=said.sharp or bool(report.get("sharp"))
    )


def _worse(first: int | None, second: int | None) -> int | None:
    return max((each for each in (first, second) if each is not None), default=None)


def is_worse(said: int | None, known: int | None) -> bool:
    """Whether a rating says something worse than a known one, or anything where none is known."""
    return said is not None and (known is None or said > known)


def collisions(days: Days, record: OnRecord, *, only_adds: bool) -> list[Collision]:
    """List each number on paper that the log has otherwise.

    Args:
        days: What paper says.
        record: What the log says of these days.
        only_adds: Whether what the practice typed in earlier counts as well: a file adds to it and never makes it better.
    """
    found = []
    for on, arms in sorted(days.items()):
        for arm, said in arms.items():
            theirs = record.phones.get(on, {}).get(arm, NOTHING)
            found += _differences(on, arm, said, theirs, by_phone=True)
            if only_adds:
                found += _differences(on, arm, said, record.typed.get(on, {}).get(arm, NOTHING), by_phone=False)
    return found


def _differences(on: date, arm: str, said: Said, known: Said, *, by_phone: bool) -> list[Collision]:
    differing = []
    if said.morning is not None and known.morning not in (None, said.morning):
        differing.append("morning")
    if said._replace(sharp=False).has_session and known.has_session:
        parts = ("worst",) if by_phone else ("worst", "done")
        differing += [part for part in parts if getattr(said, part) not in (None, getattr(known, part))]
        # Sharp pain that only paper tells of is added, so it differs from nothing.
        differing += ["sharp"] if known.sharp and not said.sharp else []
    return [Collision(on, arm, part, getattr(said, part), getattr(known, part), by_phone) for part in differing]


def left(said: Said, known: Said) -> Said:
    """Return what paper adds to what a phone said: all where nothing is known, else only what is worse, and sharp pain.

    The work of a known session is left out, since it was done once.
    """
    rest = said
    if known.has_session:
        worst = said.worst if is_worse(said.worst, known.worst) else None
        rest = Said(worst=worst, sharp=said.sharp and not known.sharp)
    return rest._replace(morning=said.morning if is_worse(said.morning, known.morning) else None)


def kept(new: Said, said: Said, typed: Said) -> Said:
    """Return what paper adds, and the ratings and sharp pain that were typed in before and are said again.

    A phone may tell the same by now. What was typed in stays all the same: taking it out could take a stop away.
    """
    same = {name: getattr(said, name) for name in ("morning", "worst") if getattr(said, name) == getattr(typed, name)}
    return new._replace(sharp=new.sharp or (said.sharp and typed.sharp), **same)


def merged(said: Said, known: Said) -> Said:
    """Return what is known, and what paper adds to it: of each number the worse one; what was done stays as it is known."""
    done = known.done if known.has_session else said.done
    return Said(_worse(said.morning, known.morning), _worse(said.worst, known.worst), done, said.sharp or known.sharp)

"""The lines of the caseload: each client of a practitioner today, the most urgent first."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from webapp.events.course_set import SetCourse
from webapp.practice.standing import NO_CONTACT, StandsOut, days_without
from webapp.records import cases, routines
from webapp.records.cases import Case, Contact
from webapp.records.database import Database
from webapp.records.routines import Pushed
from webapp.sync.shown import ArmShown, Shown
from webapp.sync.summary import always, shown_of_practitioner


@dataclass(frozen=True)
class CaseloadLine(StandsOut):
    """One client's line in the caseload.

    Attributes:
        case: The client.
        today: The client's own local day.
        standings: The arms in training.
        version: The newest routine version that was pushed, or None.
        day: The day of the routine, from 1, or None before a phone received the first version.
        last_session_on: The day of the last session, or None.
        silent_days: Days in a row without a session, up to yesterday, counted as in the review.
        contact: The number of joined phones, and the instant of the last sync.
        start_waits: Whether the first session waits for the practitioner.
        unread_letters: Letters of the client that the practice has not read.
        is_to_ask: Whether the client told of something to ask about.
        course: What the practice has set for today.
    """

    case: Case
    today: date
    standings: tuple[ArmShown, ...]
    version: Pushed | None
    day: int | None
    last_session_on: date | None
    silent_days: int
    contact: Contact
    start_waits: bool
    unread_letters: int
    is_to_ask: bool
    course: SetCourse

    @property
    def urgency(self) -> int:
        """The sort key in the caseload: held first, then who waits to start, told of something, has written, is silent, rests; the ended last."""
        modes = {stand.mode for stand in self.standings}
        is_ended = self.course.to == "ended"
        waits, rests = self.start_waits and not is_ended, "resting" in modes and not is_ended
        marks = (
            "held" in modes,
            waits,
            self.is_to_ask,
            self.unread_letters > 0,
            self.is_silent,
            rests,
            not is_ended,
            True,
        )
        return marks.index(True)


def _line(case: Case, shown: Shown, pushed: Pushed | None, contact: Contact) -> CaseloadLine:
    done = [arm.last_session_on for arm in shown.arms if arm.last_session_on]
    last_session_on = max(done, default=None)
    begun = date.fromisoformat(pushed.begun_on) if pushed and pushed.begun_on else None
    return CaseloadLine(
        case=case,
        today=shown.today,
        standings=shown.arms,
        version=pushed,
        day=(shown.today - begun).days + 1 if begun else None,
        last_session_on=last_session_on,
        silent_days=days_without(last_session_on, begun, shown.course, shown.today),
        contact=contact,
        start_waits=shown.start_waits,
        unread_letters=shown.unread_letters,
        is_to_ask=shown.asked_until is not None,
        course=shown.course,
    )


class Caseload(NamedTuple):
    """A practitioner's clients.

    Attributes:
        lines: A line for each client whose row is computed, the most urgent first, then by name.
        waiting: The clients whose row is not computed yet.
    """

    lines: list[CaseloadLine]
    waiting: list[Case]


def caseload_of(db: Database, practitioner: int, now: datetime, may_go_on: Callable[[], bool] = always) -> Caseload:
    """Return the caseload of a practitioner.

    Args:
        db: The records.
        practitioner: The practitioner's key in the records.
        now: The instant of the call, with a zone.
        may_go_on: Called before each client whose row must be computed; once it returns false, the other such clients wait.
    """
    contacts, pushed = cases.contacts(db, practitioner), routines.of_practitioner(db, practitioner)
    listed, shown = cases.of_practitioner(db, practitioner), shown_of_practitioner(db, practitioner, now, may_go_on)
    rows = [
        _line(case, shown[case.id], pushed.get(case.id), contacts.get(case.id, NO_CONTACT))
        for case in listed
        if case.id in shown
    ]
    return Caseload(sorted(rows, key=lambda line: line.urgency), [case for case in listed if case.id not in shown])


def counts_of(rows: Sequence[CaseloadLine]) -> Counter[str]:
    """Count the clients that are held, resting, silent or finished, and those with letters that are not read."""
    counts = Counter(mode for line in rows for mode in {stand.mode for stand in line.standings})
    counts["ended"] = sum(line.course.to == "ended" for line in rows)
    counts["silent"] = sum(line.is_silent for line in rows)
    counts["letters"] = sum(line.unread_letters > 0 for line in rows)
    return counts

"""The lines of the caseload: each client of a practitioner today, by group and urgency."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from webapp.events.course_set import SetCourse
from webapp.practice.standing import NO_CONTACT, days_without, phones_asked
from webapp.records import cases, routines, seen
from webapp.records.archivings import Archiving
from webapp.records.cases import Case, Contact
from webapp.records.database import Database
from webapp.records.routines import Pushed
from webapp.records.seen import Seen
from webapp.sync.case.archive import archived_with
from webapp.sync.caseload.causes import GROUPS, Cause, causes_of, group_of, is_news
from webapp.sync.caseload.glance import ArmStand, Glance
from webapp.sync.caseload.shown import ArmShown, Shown
from webapp.sync.caseload.strip import Strip
from webapp.sync.caseload.summary import always, shown_of_client, shown_of_practitioner


@dataclass(frozen=True)
class CaseloadLine:
    """One client's line in the caseload.

    Attributes:
        case: The client.
        today: The client's own local day.
        standings: The arms in training or held, from the summary.
        version: The newest routine version that was pushed, or None.
        day: The day of the routine, from 1, or None before a phone received the first version.
        last_session_on: The day of the last session, or None.
        silent_days: Days in a row without a session, up to yesterday, counted as in the review.
        contact: The number of joined phones, and the instant of the last sync.
        unread_letters: Letters of the client that the practice has not read.
        is_to_ask: Whether the client told of something to ask about.
        course: What the practice has set for today.
        stands: Where each of these arms stands, from the glance.
        whole: The glance, with the strips.
        causes: Why to look at the client, the most urgent first.
        group: One of `GROUPS`.
        seen: The practice's mark while it counts, or None.
        has_twin: Whether another client of the caseload has the same name.
    """

    case: Case
    today: date
    standings: tuple[ArmShown, ...]
    version: Pushed | None
    day: int | None
    last_session_on: date | None
    silent_days: int
    contact: Contact
    unread_letters: int
    is_to_ask: bool
    course: SetCourse
    stands: tuple[ArmStand, ...]
    whole: Glance
    causes: tuple[Cause, ...]
    group: str
    seen: Seen | None
    has_twin: bool

    @property
    def added_on(self) -> date:
        """The day on which the client was added."""
        return date.fromisoformat(self.case.created_at[:10])

    @property
    def modes(self) -> dict[str, str]:
        """The mode of each arm: training, resting or held."""
        return {stand.arm: stand.mode for stand in self.standings}

    @property
    def strips(self) -> list[Strip]:
        """The strip of each arm that is shown, up to today."""
        return [strip.until(self.today) for strip in self.whole.strips if strip.arm in self.modes]

    @property
    def urgency(self) -> tuple[int, bool, tuple[bool, int]]:
        """The sort key: the group, within it the seen last, then the first cause."""
        first = self.causes[0].rank if self.causes else (True, 0)
        return GROUPS.index(self.group), self.seen is not None, first


class Archived(NamedTuple):
    """A client in the archive, and why the case was put there, by whom and when."""

    case: Case
    archiving: Archiving


class Caseload(NamedTuple):
    """A practitioner's clients.

    Attributes:
        lines: A line for each client whose row is computed, the most urgent first, then by name.
        waiting: The clients whose row is not computed yet.
        unreadable: The clients whose log cannot be folded, so that nothing is known of them.
        archive: The clients in the archive of whom nothing came in since, by name. Their logs are not read.
    """

    lines: list[CaseloadLine]
    waiting: list[Case]
    unreadable: list[Case]
    archive: list[Archived]


class _Kept(NamedTuple):
    """What is read of all clients at once."""

    pushed: Mapping[int, Pushed]
    contacts: Mapping[int, Contact]
    marks: Mapping[int, Seen]
    names: Counter[str]
    archived: Mapping[int, Archiving]

    def is_away(self, client: int) -> bool:
        """Say whether a case is in the archive and out of sight: nothing came in since, and no phone waits to be confirmed."""
        put_away = self.archived.get(client)
        return put_away is not None and not put_away.entries and not self.contacts.get(client, NO_CONTACT).to_confirm


def caseload_of(db: Database, practitioner: int, now: datetime, may_go_on: Callable[[], bool] = always) -> Caseload:
    """Return the caseload of a practitioner.

    Args:
        db: The records.
        practitioner: The practitioner's key in the records.
        now: The instant of the call, with a zone.
        may_go_on: Called before each client whose row must be computed; once it returns false, the other such clients wait.
    """
    everybody = cases.of_practitioner(db, practitioner)
    kept = _kept(db, practitioner, everybody)
    away = [Archived(case, kept.archived[case.id]) for case in everybody if kept.is_away(case.id)]
    listed = [case for case in everybody if not kept.is_away(case.id)]
    shown, unreadable = shown_of_practitioner(db, practitioner, now, may_go_on, {each.case.id for each in away})
    rows = [_line(case, shown[case.id], kept) for case in listed if case.id in shown]
    others = [case for case in listed if case.id not in shown]
    return Caseload(
        sorted(rows, key=lambda line: line.urgency),
        [case for case in others if case.id not in unreadable],
        [case for case in others if case.id in unreadable],
        away,
    )


def line_of_case(db: Database, practitioner: int, case: Case, now: datetime) -> CaseloadLine:
    """Return the caseload's line of one of a practitioner's clients; no other client's log is read."""
    kept = _kept(db, practitioner, cases.of_practitioner(db, practitioner))
    return _line(case, shown_of_client(db, case.id, now), kept)


def _kept(db: Database, practitioner: int, listed: Sequence[Case]) -> _Kept:
    return _Kept(
        routines.of_practitioner(db, practitioner),
        cases.contacts(db, practitioner),
        seen.of_clients(db, [case.id for case in listed]),
        Counter(case.name.casefold() for case in listed),
        archived_with(db, practitioner),
    )


def _line(case: Case, shown: Shown, kept: _Kept) -> CaseloadLine:
    pushed, contact = kept.pushed.get(case.id), kept.contacts.get(case.id, NO_CONTACT)
    done = [arm.last_session_on for arm in shown.arms if arm.last_session_on]
    last_session_on = max(done, default=None)
    begun = date.fromisoformat(pushed.begun_on) if pushed and pushed.begun_on else None
    causes = causes_of(shown, phones_asked(pushed, contact), _heard_again_on(kept.archived.get(case.id), shown.today))
    return CaseloadLine(
        case=case,
        today=shown.today,
        standings=shown.arms,
        version=pushed,
        day=(shown.today - begun).days + 1 if begun else None,
        last_session_on=last_session_on,
        silent_days=days_without(last_session_on, begun, shown.course, shown.today),
        contact=contact,
        unread_letters=shown.unread_letters,
        is_to_ask=shown.asked_until is not None,
        course=shown.course,
        stands=shown.glance.arms,
        whole=shown.whole,
        causes=causes,
        group=group_of(shown, causes),
        seen=_mark(kept.marks.get(case.id), causes, shown.today),
        has_twin=kept.names[case.name.casefold()] > 1,
    )


def _heard_again_on(put_away: Archiving | None, today: date) -> date | None:
    """Return the day on which something came in after a case was archived; today where only a phone waits to be confirmed."""
    if put_away is None:
        return None
    return date.fromisoformat(put_away.first_at[:10]) if put_away.first_at else today


def _mark(mark: Seen | None, causes: tuple[Cause, ...], today: date) -> Seen | None:
    """Return the mark while it counts: until its day, and while nothing new came that is no milder."""
    if mark is None or today >= date.fromisoformat(mark.until) or is_news(causes, mark.causes):
        return None
    return mark

"""How a group stands: how many joined, answer, wait, train, are silent or in trouble; and which of them need the practitioner."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from webapp.events.course_set import DAYS_COUNTED
from webapp.practice import desk
from webapp.practice.standing import NO_CONTACT, SILENT_FROM_DAYS, days_without, phones_asked
from webapp.records import cases, groups, routines
from webapp.records.cases import Case, Contact
from webapp.records.groups import GroupInvitation
from webapp.records.routines import Pushed
from webapp.sync.case.screening import screening_of
from webapp.sync.caseload.causes import Cause, causes_of
from webapp.sync.caseload.shown import Shown
from webapp.sync.caseload.strip import Strip
from webapp.sync.caseload.summary import shown_of_practitioner
from webapp.words.causes import START

STATES = ("held", "resting", "waiting", "answering", "silent", "training", "ended")
"""Where a member stands, each in one of these."""


@dataclass(frozen=True)
class Member:
    """A client who joined by the group.

    Attributes:
        case: The case.
        state: One of `STATES`.
        begun_on: The day on which a phone got the routine, or None.
        shown: What the caseload shows of the client.
        causes: Why to look at the client, the most urgent first; that the start waits is no such cause here.
    """

    case: Case
    state: str
    begun_on: date | None
    shown: Shown
    causes: tuple[Cause, ...]

    @property
    def is_in_trouble(self) -> bool:
        """Whether the practitioner must do something soon, besides letting the member start."""
        return self.state == "held" or any(cause.is_urgent for cause in self.causes)

    @property
    def strips(self) -> list[Strip]:
        """The strip of each arm that is shown, up to today."""
        arms = {arm.arm for arm in self.shown.arms}
        return [strip.until(self.shown.today) for strip in self.shown.whole.strips if strip.arm in arms]

    @property
    def morning(self) -> int | None:
        """The last morning's rating, of two arms the higher one, or None."""
        return max((arm.morning for arm in self.shown.arms if arm.morning is not None), default=None)


@dataclass(frozen=True)
class GroupStanding:
    """A group today.

    Attributes:
        members: Those who are still the practitioner's clients.
        gone: How many joined and are not the practitioner's clients any more.
        unreadable: Those whose log cannot be folded, so that nothing is known of them; they are not among the members.
    """

    members: tuple[Member, ...]
    gone: int
    unreadable: tuple[Case, ...] = ()

    @property
    def counts(self) -> Counter[str]:
        """The number of members by state."""
        return Counter(each.state for each in self.members)

    @property
    def mornings(self) -> Counter[int]:
        """The number of members by the last morning's rating, 0 to 10, as far as there is one."""
        return Counter(each.morning for each in self.members if each.morning is not None)

    @property
    def troubled(self) -> list[Member]:
        """Those in trouble, the most urgent first."""
        found = [each for each in self.members if each.is_in_trouble]
        return sorted(found, key=lambda each: each.causes[0].rank if each.causes else (True, 0))

    @property
    def waiting(self) -> list[Member]:
        """Those who wait for the practitioner before the first session."""
        return [each for each in self.members if each.state == "waiting"]


def standing_of(group: GroupInvitation) -> GroupStanding:
    """Return how a group of the practitioner stands now."""
    db, me = desk.records(), desk.signed_in().id
    of_group = groups.members_of(db, group.id)
    (shown, unreadable), pushed = shown_of_practitioner(db, me, desk.now()), routines.of_practitioner(db, me)
    contacts = cases.contacts(db, me)
    here = [case for case in cases.of_practitioner(db, me) if case.id in of_group]
    unknown = tuple(case for case in here if case.id in unreadable)
    members = tuple(
        _member(case, shown[case.id], pushed.get(case.id), contacts.get(case.id, NO_CONTACT))
        for case in here
        if case.id in shown
    )
    return GroupStanding(members, group.joined - len(members) - len(unknown), unknown)


def _member(case: Case, shown: Shown, pushed: Pushed | None, contact: Contact) -> Member:
    begun = date.fromisoformat(pushed.begun_on) if pushed and pushed.begun_on else None
    causes = causes_of(shown, phones_asked(pushed, contact))
    others = tuple(cause for cause in causes if cause.kind != START)
    return Member(case, _state(case, shown, begun), begun, shown, others)


def _state(case: Case, shown: Shown, begun: date | None) -> str:
    modes = {arm.mode for arm in shown.arms}
    if shown.course.to == "ended" and "held" not in modes:
        return "ended"
    if case.asks_intake or shown.start_waits:
        waits = screening_of(desk.records(), case.id).waits_for
        return "answering" if waits in {"screening", "intake"} else "waiting"
    done = [arm.last_session_on for arm in shown.arms if arm.last_session_on]
    silent = days_without(max(done, default=None), begun, shown.course, shown.today)
    found = {
        "held": "held" in modes,
        "resting": "resting" in modes,
        "silent": silent >= (DAYS_COUNTED if shown.course.to == "maintenance" else SILENT_FROM_DAYS),
    }
    return next((state for state, is_so in found.items() if is_so), "training")

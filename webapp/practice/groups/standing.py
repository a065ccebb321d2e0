"""How a group stands: how many joined, answer, wait, train, are silent or in trouble; and which of them need the practitioner."""

from collections import Counter
from dataclasses import dataclass
from datetime import date

from webapp.events.course_set import DAYS_COUNTED
from webapp.practice import desk
from webapp.practice.standing import SILENT_FROM_DAYS, days_without
from webapp.records import cases, groups, routines
from webapp.records.cases import Case
from webapp.records.groups import GroupInvitation
from webapp.records.routines import Pushed
from webapp.sync.case.screening import screening_of
from webapp.sync.caseload.shown import Shown
from webapp.sync.caseload.summary import shown_of_practitioner

TROUBLED = ("held", "resting", "told")
"""The states that are singled out, the most urgent first."""
STATES = (*TROUBLED, "waiting", "answering", "silent", "training", "ended")


@dataclass(frozen=True)
class Member:
    """A client who joined by the group: the case, and one of `STATES`."""

    case: Case
    state: str


@dataclass(frozen=True)
class GroupStanding:
    """A group today.

    Attributes:
        members: Those who are still the practitioner's clients.
        counts: The number of members by state.
        mornings: The number of members by the last morning's rating, 0 to 10, as far as there is one.
    """

    members: list[Member]
    counts: Counter[str]
    mornings: Counter[int]

    @property
    def troubled(self) -> list[Member]:
        """Those in trouble, the most urgent first."""
        return [each for state in TROUBLED for each in self.members if each.state == state]

    @property
    def waiting(self) -> list[Member]:
        """Those who wait for the practitioner before the first session."""
        return [each for each in self.members if each.state == "waiting"]


def standing_of(group: GroupInvitation) -> GroupStanding:
    """Return how a group of the practitioner stands now."""
    db, me = desk.records(), desk.signed_in().id
    of_group = groups.members_of(db, group.id)
    shown, pushed = shown_of_practitioner(db, me, desk.now()), routines.of_practitioner(db, me)
    here = [case for case in cases.of_practitioner(db, me) if case.id in of_group and case.id in shown]
    members = [Member(case, _state(case, shown[case.id], pushed.get(case.id))) for case in here]
    mornings = Counter(
        max(ratings)
        for case in here
        if (ratings := [arm.morning for arm in shown[case.id].arms if arm.morning is not None])
    )
    return GroupStanding(members, Counter(each.state for each in members), mornings)


def _state(case: Case, shown: Shown, pushed: Pushed | None) -> str:
    modes = {arm.mode for arm in shown.arms}
    if shown.course.to == "ended" and "held" not in modes:
        return "ended"
    if case.asks_intake or shown.start_waits:
        waits = screening_of(desk.records(), case.id).waits_for
        return "answering" if waits in {"screening", "intake"} else "waiting"
    done = [arm.last_session_on for arm in shown.arms if arm.last_session_on]
    begun = date.fromisoformat(pushed.begun_on) if pushed and pushed.begun_on else None
    silent = days_without(max(done, default=None), begun, shown.course, shown.today)
    found = {
        "held": "held" in modes,
        "resting": "resting" in modes,
        "told": shown.asked_until is not None,
        "silent": silent >= (DAYS_COUNTED if shown.course.to == "maintenance" else SILENT_FROM_DAYS),
    }
    return next((state for state, is_so in found.items() if is_so), "training")

"""Folding a client's log through the dosing core: day by day, across routine versions and releases.

Pure but for `read_course` and `accounts_of`, which fetch the log; the same events give the same
result in whatever order they arrived.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from webapp.dosing.closing import close_day
from webapp.dosing.course import NOTHING, ClosedDay, DayFacts, follow, is_sharp
from webapp.dosing.dose import asks_else, dose
from webapp.dosing.hand import has_trouble, is_stop, is_trouble, may_not_rise
from webapp.dosing.plan import Plan, start_rung, start_state
from webapp.dosing.release import released
from webapp.dosing.state import State
from webapp.records import events, routines
from webapp.records.database import Database
from webapp.sync.diary import Diary, read_diary
from webapp.sync.plans import plan_of
from webapp.sync.switch import (
    Changed,
    Place,
    RungRefusal,
    asks_for_a_rise,
    carried,
    last_change,
    switched,
    why_begun,
)

ONE_DAY = timedelta(days=1)
# A phone whose clock once stood decades back must not make every later fold long.
LONGEST = timedelta(days=3660)
SHARP = "sharp"


@dataclass(frozen=True)
class Course:
    """A client's diary and the plans it runs through, by version."""

    diary: Diary
    plans: Mapping[int, Plan]

    def enter(
        self,
        arm: str,
        place: Place | None,
        day: date,
        newest: int = 0,
        *,
        may_release: bool = True,
        eve: str | None = None,
        own: str | None = None,
    ) -> Place | None:
        """Apply what changes an arm's state at the start of a day: a routine received, a hold released.

        Args:
            arm: Which.
            place: Where it stood when the day before was closed; None where it has not begun.
            day: The day that starts.
            newest: A version to count as received on this day, or 0.
            may_release: Whether a hold may be released.
            eve: The response to suppose of the day before; None for what the diary has. Only an arm that begins asks it.
            own: The response to suppose of the day itself; None for what the diary has. Only a rise by hand asks it.

        Returns:
            Where it stands, or None where no routine has asked anything of this arm yet.
        """
        version = max(self.diary.version_on(day), newest, place.version if place else 0)
        if not version or (place is None and arm not in self.plans[version].client.arms):
            return None
        moved = self._begin(arm, version, day, eve) if place is None else self._switch(arm, place, version, day, own)
        now = self._release(arm, moved, day) if may_release else moved
        before = place or moved  # an arm may begin held, and be released on that very day
        is_changed = self._asks_else(before, now)
        return replace(now, changed=Changed(day, why_begun(self.plans, arm, before, now, ()))) if is_changed else now

    def _asks_else(self, before: Place, after: Place) -> bool:
        if before.state == after.state and before.version == after.version:
            return False
        return asks_else(*(dose(self.plans[place.version], place.state) for place in (before, after)))

    def _begin(self, arm: str, version: int, day: date, eve: str | None) -> Place:
        # An arm that had no routine has no history here, but for this very morning and for what was sharp before.
        plan, known, last = self.plans[version], self.diary.of_arm(arm), day - ONE_DAY
        is_sharp_eve = is_sharp(known.get(last, NOTHING)) if eve is None else eve == SHARP
        was_sharp = any(on < last and is_sharp(facts) for on, facts in known.items())
        start = start_state(plan, arm)
        if is_sharp_eve or was_sharp:
            return Place(version, close_day(plan, start, SHARP).state, last)
        return Place(version, start)

    def _switch(self, arm: str, place: Place, version: int, day: date, own: str | None) -> Place:
        if version == place.version:
            return place
        old, new = self.plans[place.version], self.plans[version]
        raised = replace(place, version=version, state=switched(old, new, arm, place.state), refusal=None)
        if not asks_for_a_rise(old, new, arm, place.state):
            return raised
        troubled_on = self._troubled_on(arm, raised, day, own)
        if troubled_on is None:
            return raised
        refusal = RungRefusal(day, start_rung(new, arm), troubled_on, place.state.mode == "held")
        return replace(raised, state=carried(old, new, arm, place.state), refusal=refusal)

    def _troubled_on(self, arm: str, place: Place, day: date, own: str | None) -> date | None:
        """Return the stop or the flare that lets no rise take effect on a day, that very day's among them, or None."""
        if own is None:
            (account,) = follow(self.plans[place.version], place.state, day, self.diary.of_arm(arm), day + ONE_DAY)
            own = account.response
        if is_trouble(own):
            return day
        is_barred = place.state.mode == "held" or may_not_rise(place.troubled_on, day)
        return (place.troubled_on or day) if is_barred else None

    def close(self, place: Place, day: date, response: str) -> tuple[Place, tuple[str, ...]]:
        """Close a day of an arm by its response; return where the arm stands then, and the ids of the rules."""
        state, reasons = close_day(self.plans[place.version], place.state, response)
        troubled_on = day if is_trouble(response) or is_stop(place.state, state) else place.troubled_on
        after = replace(place, state=state, troubled_on=troubled_on)
        is_changed = self._asks_else(place, after)
        return (replace(after, changed=Changed(day + ONE_DAY, reasons)) if is_changed else after), reasons

    def _release(self, arm: str, place: Place, day: date) -> Place:
        chosen = self.diary.releases.get(arm, {}).get(day)
        if chosen is None or place.state.mode != "held":
            return place
        return replace(place, state=released(self.plans[place.version], place.state, chosen))

    def run(self, arm: str, place: Place | None, start: date, until: date) -> tuple[list[ClosedDay], Place | None]:
        """Close an arm's days.

        Args:
            arm: Which.
            place: Where it stood when the day before `start` was closed; None where it has not begun.
            start: The first day to close.
            until: The first day to leave open.

        Returns:
            The closed days, and where the arm stands then, before anything changes it on `until`.
        """
        accounts: list[ClosedDay] = []
        facts = self.diary.of_arm(arm)
        for first, last in self._spans(arm, start, until):
            place = self.enter(arm, place, first)
            if place is not None:
                days = follow(self.plans[place.version], place.state, first, facts, last)
                accounts += days
                last_trouble = max((each.on for each in days if has_trouble(each)), default=place.troubled_on)
                changed = last_change(self.plans[place.version], days) or place.changed
                place = replace(place, state=days[-1].state_after, troubled_on=last_trouble, changed=changed)
        return accounts, place

    def _spans(self, arm: str, start: date, until: date) -> list[tuple[date, date]]:
        turns = {on for on in self.diary.turns(arm) if start < on < until}
        return list(pairwise(sorted({start, until, *turns}))) if start < until else []

    def arms(self) -> list[str]:
        """List every arm that some version asks for."""
        return sorted({arm for plan in self.plans.values() for arm in plan.client.arms})

    def agreed_since(self, until: date) -> date | None:
        """Return the day on which a received version last changed the usual pain or the settled ceiling, if one did."""
        since, before = None, None
        for on in sorted({on for on, _ in self.diary.receipts if on <= until}):
            plan = self.plans[self.diary.version_on(on)]
            agreed = (plan.client.usual, plan.tuning.settled_during)
            since = on if before not in (None, agreed) else since
            before = agreed
        return since

    def first_day(self, until: date) -> date:
        """Give the day on which the first routine came, but not too long ago; `until` where none came."""
        first = min((on for on, _ in self.diary.receipts), default=until)
        return max(first, until - LONGEST)


@dataclass(frozen=True)
class ArmAccount:
    """What became of one arm up to a day.

    Attributes:
        days: Every closed day, the oldest first.
        state: At the start of the first open day.
        version: The routine version it follows.
        plan: That version's plan.
        reasons: The ids of the rules behind the state.
        facts: All that is known, open days included.
        agreed_since: The day on which the usual pain or the settled ceiling last changed; None where neither has.
        released_from: The later day from which a release that is on record already counts; None where there is none.
        refusal: The rung given by hand with this version that counted for nothing; None where none was.
    """

    days: tuple[ClosedDay, ...]
    state: State
    version: int
    plan: Plan
    reasons: tuple[str, ...]
    facts: Mapping[date, DayFacts]
    agreed_since: date | None = None
    released_from: date | None = None
    refusal: RungRefusal | None = None


def read_course(db: Database, client: int, logged: Sequence[events.LoggedEvent]) -> Course:
    """Put a client's events beside the plans of their routine versions."""
    plans = {version.version: plan_of(version) for version in routines.of_client(db, client)}
    return Course(read_diary(logged, plans), plans)


def accounts_of(db: Database, client: int, until: date) -> dict[str, ArmAccount]:
    """Fold a client's whole log.

    Args:
        db: The records.
        client: Whose.
        until: The first day to leave open.

    Returns:
        For each arm that a received routine asks for, its account up to `until`.
    """
    course = read_course(db, client, events.of_client(db, client))
    found = {}
    for arm in course.arms():
        days, end = course.run(arm, None, course.first_day(until), until)
        place = course.enter(arm, end, until)
        if place is not None:
            reasons = why_begun(course.plans, arm, end, place, days[-1].reasons if days else ("start",))
            found[arm] = _account(course, arm, days, place, reasons, until)
    return found


def _account(
    course: Course, arm: str, days: Sequence[ClosedDay], place: Place, reasons: tuple[str, ...], until: date
) -> ArmAccount:
    later = min((on for on in course.diary.releases.get(arm, {}) if on > until), default=None)
    return ArmAccount(
        tuple(days),
        place.state,
        place.version,
        course.plans[place.version],
        reasons,
        course.diary.of_arm(arm),
        course.agreed_since(until),
        later,
        place.refusal,
    )

"""Folds a client's log through the dosing core: day by day, across routine versions and releases.

Pure, except `read_course` and `accounts_of`, which read the log. The same events give the same result, in whatever order
they arrived.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from webapp.dosing.closing import close_day
from webapp.dosing.course import NOTHING, ClosedDay, follow, is_sharp
from webapp.dosing.dose import asks_else, dose
from webapp.dosing.hand import has_trouble, is_stop, is_trouble, may_not_rise
from webapp.dosing.plan import Plan, start_rung, start_state
from webapp.dosing.release import released
from webapp.records import events, routines
from webapp.records.database import Database
from webapp.sync.bundle.plans import plan_of
from webapp.sync.folding import switch
from webapp.sync.folding.arm_account import ArmAccount, agreed_since
from webapp.sync.folding.switch import Changed, Progress, RungRefusal, last_change, why_begun
from webapp.sync.log.diary import Diary, read_diary

ONE_DAY = timedelta(days=1)
# A phone whose clock was once decades behind must not make every later fold long.
LONGEST = timedelta(days=3660)
SHARP = "sharp"


@dataclass(frozen=True)
class Course:
    """A client's diary, and the plans of the client's routine versions, by version."""

    diary: Diary
    plans: Mapping[int, Plan]

    def enter(
        self,
        arm: str,
        progress: Progress | None,
        day: date,
        newest: int = 0,
        *,
        may_release: bool = True,
        eve: str | None = None,
        own: str | None = None,
    ) -> Progress | None:
        """Start a day: apply a routine that was received and a release of a hold.

        Args:
            arm: The arm.
            progress: The arm's progress after the day before was closed; None if it has not begun.
            day: The day that starts.
            newest: A version that counts as received on this day, or 0.
            may_release: Whether a hold may be released.
            eve: The response to assume for the day before; None for the diary's own. It matters only to an arm that begins.
            own: The response to assume for the day itself; None for the diary's own. It matters only to a rise by hand.

        Returns:
            The arm's progress, or None if no routine has had this arm yet.
        """
        version = max(self.diary.version_on(day), newest, progress.version if progress else 0)
        if not version or (progress is None and arm not in self.plans[version].client.arms):
            return None
        moved = (
            self._begin(arm, version, day, eve) if progress is None else self._switch(arm, progress, version, day, own)
        )
        now = self._release(arm, moved, day) if may_release else moved
        before = progress or moved  # an arm may begin held, and be released on the same day
        is_changed = self._asks_else(before, now)
        return replace(now, changed=Changed(day, why_begun(self.plans, arm, before, now, ()))) if is_changed else now

    def _asks_else(self, before: Progress, after: Progress) -> bool:
        if before.state == after.state and before.version == after.version:
            return False
        return asks_else(*(dose(self.plans[progress.version], progress.state) for progress in (before, after)))

    def _begin(self, arm: str, version: int, day: date, eve: str | None) -> Progress:
        # An arm without an earlier routine has no history, except this morning's report and sharp days.
        plan, known, last = self.plans[version], self.diary.of_arm(arm), day - ONE_DAY
        is_sharp_eve = is_sharp(known.get(last, NOTHING)) if eve is None else eve == SHARP
        was_sharp = any(on < last and is_sharp(facts) for on, facts in known.items())
        start = start_state(plan, arm)
        if is_sharp_eve or was_sharp:
            return Progress(version, close_day(plan, start, SHARP).state, last)
        return Progress(version, start)

    def _switch(self, arm: str, progress: Progress, version: int, day: date, own: str | None) -> Progress:
        if version == progress.version:
            return progress
        old, new = self.plans[progress.version], self.plans[version]
        raised = replace(progress, version=version, state=switch.switched(old, new, arm, progress.state), refusal=None)
        if not switch.asks_for_a_rise(old, new, arm, progress.state):
            return raised
        troubled_on = self._troubled_on(arm, raised, day, own)
        if troubled_on is None:
            return raised
        refusal = RungRefusal(day, start_rung(new, arm), troubled_on, progress.state.mode == "held")
        return replace(raised, state=switch.carried(old, new, arm, progress.state), refusal=refusal)

    def _troubled_on(self, arm: str, progress: Progress, day: date, own: str | None) -> date | None:
        """Return the day of the stop or flare that forbids a rise on a day, or None; it may be that day itself."""
        if own is None:
            (account,) = follow(
                self.plans[progress.version], progress.state, day, self.diary.of_arm(arm), day + ONE_DAY
            )
            own = account.response
        if is_trouble(own):
            return day
        is_barred = progress.state.mode == "held" or may_not_rise(progress.troubled_on, day)
        return (progress.troubled_on or day) if is_barred else None

    def close(self, progress: Progress, day: date, response: str) -> tuple[Progress, tuple[str, ...]]:
        """Close a day of an arm by its response; return the arm's progress after it, and the ids of the rules."""
        state, reasons = close_day(self.plans[progress.version], progress.state, response)
        troubled_on = day if is_trouble(response) or is_stop(progress.state, state) else progress.troubled_on
        after = replace(progress, state=state, troubled_on=troubled_on)
        is_changed = self._asks_else(progress, after)
        return (replace(after, changed=Changed(day + ONE_DAY, reasons)) if is_changed else after), reasons

    def _release(self, arm: str, progress: Progress, day: date) -> Progress:
        chosen = self.diary.releases.get(arm, {}).get(day)
        if chosen is None or progress.state.mode != "held":
            return progress
        return replace(progress, state=released(self.plans[progress.version], progress.state, chosen))

    def run(
        self, arm: str, progress: Progress | None, start: date, until: date
    ) -> tuple[list[ClosedDay], Progress | None]:
        """Close an arm's days.

        Args:
            arm: The arm.
            progress: The arm's progress after the day before `start` was closed; None if it has not begun.
            start: The first day to close.
            until: The first day that stays open.

        Returns:
            The closed days, and the arm's progress after them, before `until` starts.
        """
        accounts: list[ClosedDay] = []
        facts = self.diary.of_arm(arm)
        for first, last in self._spans(arm, start, until):
            progress = self.enter(arm, progress, first)
            if progress is not None:
                days = follow(self.plans[progress.version], progress.state, first, facts, last)
                accounts += days
                last_trouble = next((each.on for each in reversed(days) if has_trouble(each)), progress.troubled_on)
                changed = last_change(self.plans[progress.version], days) or progress.changed
                progress = replace(progress, state=days[-1].state_after, troubled_on=last_trouble, changed=changed)
        return accounts, progress

    def _spans(self, arm: str, start: date, until: date) -> list[tuple[date, date]]:
        turns = {on for on in self.diary.turns(arm) if start < on < until}
        return list(pairwise(sorted({start, until, *turns}))) if start < until else []

    def arms(self) -> list[str]:
        """List every arm that is in any version."""
        return sorted({arm for plan in self.plans.values() for arm in plan.client.arms})

    def plans_received(self) -> tuple[tuple[date, Plan], ...]:
        """Return the days on which a version was received, each with the plan that was in force from then on, by day."""
        days = sorted({on for on, _ in self.diary.receipts})
        return tuple((on, self.plans[self.diary.version_on(on)]) for on in days)

    def first_day(self, until: date) -> date:
        """Return the day of the first received routine, at most `LONGEST` before `until`; `until` if none was received."""
        first = min((on for on, _ in self.diary.receipts), default=until)
        return max(first, until - LONGEST)


def read_course(db: Database, client: int, logged: Sequence[events.LoggedEvent]) -> Course:
    """Return a client's course, from the client's events and the plans of their routine versions."""
    plans = {version.version: plan_of(version) for version in routines.of_client(db, client)}
    return Course(read_diary(logged, plans), plans)


def accounts_of(db: Database, client: int, until: date) -> dict[str, ArmAccount]:
    """Fold a client's whole log.

    Args:
        db: The records.
        client: The client's key.
        until: The first day that stays open.

    Returns:
        For each arm in a received routine, its account up to `until`.
    """
    course = read_course(db, client, events.of_client(db, client))
    found = {}
    for arm in course.arms():
        days, end = course.run(arm, None, course.first_day(until), until)
        progress = course.enter(arm, end, until)
        if progress is not None:
            reasons = why_begun(course.plans, arm, end, progress, days[-1].reasons if days else ("start",))
            found[arm] = account_at(course, arm, days, progress, reasons, until)
    return found


def account_at(
    course: Course, arm: str, days: Sequence[ClosedDay], progress: Progress, reasons: tuple[str, ...], until: date
) -> ArmAccount:
    """Return an arm's account up to a day from what `Course.run` and `Course.enter` returned for it."""
    later = min((on for on in course.diary.releases.get(arm, {}) if on > until), default=None)
    return ArmAccount(
        tuple(days),
        progress.state,
        progress.version,
        course.plans[progress.version],
        reasons,
        course.diary.of_arm(arm),
        agreed_since(course.plans_received(), until),
        later,
        progress.refusal,
        progress.changed,
        course.plans_received(),
    )

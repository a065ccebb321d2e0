"""What the practitioner of the demo does for a client besides the first routine: each act as the desk's pages do it."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from people import PRACTITIONER

from webapp.dosing.release import returns_after
from webapp.dosing.returning.own_activity import OWN_ACTIVITY
from webapp.events.course_set import SetCourse
from webapp.events.returning import OPENED
from webapp.records import routines
from webapp.records.database import Database, write
from webapp.sync.case import archive, finishing, hold, way_back
from webapp.sync.folding.fold import accounts_of
from webapp.sync.folding.returning import told_ways
from webapp.sync.log import practice_events

MORNING_HOUR = 7


class Desk:
    """The practitioner's acts for one client: a new version of the routine, and the end of a hold."""

    def __init__(self, db: Database, client: int, owner: int) -> None:
        self.db, self.client, self.owner = db, client, owner

    def push(self, routine: dict[str, Any], settings: dict[str, Any], note: str, on: date) -> int:
        """Push the routine once more with a note, and return the number of its version."""
        at = datetime.combine(on, time(MORNING_HOUR), UTC)
        return routines.push(self.db, self.client, routine, settings, note, self.owner, at).version

    def name(self, activities: tuple[str, ...], on: date) -> None:
        """Write down the client's own activities."""
        now = datetime.combine(on, time(MORNING_HOUR), UTC)
        with write(self.db):
            practice_events.put(self.db, self.client, "activities_named", on, {"activities": list(activities)}, now)

    def choose_habit(self, habit: str, on: date) -> None:
        """Choose a habit for the client."""
        now = datetime.combine(on, time(MORNING_HOUR), UTC)
        with write(self.db):
            body = {"habit": habit, "by": PRACTITIONER}
            practice_events.put(self.db, self.client, "habit_chosen", on, body, now)

    def set_course(self, to: str, days_a_week: int, days_ago: int, reason: str, today: date) -> None:
        """Set maintenance or the end, some days ago."""
        on = today - timedelta(days=days_ago)
        now = datetime.combine(on, time(MORNING_HOUR), UTC)
        chosen = SetCourse(to, days_a_week, on, reason, PRACTITIONER)
        finishing.set_course(self.db, self.client, chosen, finishing.seal(()), now=now)

    def archive(self, reason: str, on: date) -> None:
        """Put the case into the archive."""
        now = datetime.combine(on, time(MORNING_HOUR), UTC)
        archive.archive(self.db, self.client, reason, self.owner, archive.seal(self.db, self.client), now=now)

    def open_way(self, ladder: str, reason: str, on: date) -> None:
        """Open a way back on its first step; the gate must be met, as on the desk."""
        gate = way_back.gate_of(self.db, self.client, accounts_of(self.db, self.client, on), on)
        # The client's own activity is asked about in the talk.
        assert all(point.is_met for point in gate if point.id != OWN_ACTIVITY), gate
        body = {
            "ladder": ladder,
            "step": 1,
            "gate": [*(point.id for point in gate), "clinician"],
            "reason": reason,
            "by": PRACTITIONER,
        }
        seal = way_back.seal(told_ways(self.db, self.client))
        now = datetime.combine(on, time(MORNING_HOUR), UTC)
        way_back.put_way(self.db, self.client, OPENED, on, body, seal, now=now)

    def release(self, on: date) -> None:
        """Let each held arm start again with the most that is offered."""
        for arm, account in accounts_of(self.db, self.client, on).items():
            if account.state.mode == "held":
                chosen = returns_after(account.plan, account.state, hold.days_held(account))[0]
                seal = hold.seal(hold.sharp_of(self.db, self.client, arm))
                grounds = hold.Grounds(
                    "Calm for three days. I have looked at the arm, and it bears load.", PRACTITIONER
                )
                now = datetime.combine(on, time(MORNING_HOUR), UTC)
                hold.release(self.db, self.client, arm, chosen, grounds, seal, on, now=now)

"""A client's log in the form that the fold needs: facts by arm and day, days of received routines, days of releases.

It is built from events in any order; the same events always give the same diary.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

import msgspec

from webapp.dosing.course import DayFacts
from webapp.dosing.dose import ease_of
from webapp.dosing.release import Return
from webapp.events.codec import decode
from webapp.events.kinds import PRACTICE_KINDS, Event, EventError
from webapp.records.events import LoggedEvent
from webapp.sync.log.facts import facts_by_arm, sharp_entries, without_lowered_stops

ENTRIES_KEPT = 4096
"""Entries that stay decoded in memory, some 4 kB each: a page reads the same ones several times, and so does the next."""


@dataclass(frozen=True)
class Diary:
    """The contents of a client's log.

    Attributes:
        facts: For each arm, the facts of each day.
        receipts: (day, version) of every received routine, sorted.
        releases: For each arm, by day, the rung and range at which a hold ends; only releases that cover every sharp entry
            about an earlier day.
    """

    facts: Mapping[str, Mapping[date, DayFacts]] = field(default_factory=dict)
    receipts: tuple[tuple[date, int], ...] = ()
    releases: Mapping[str, Mapping[date, Return]] = field(default_factory=dict)

    def of_arm(self, arm: str) -> Mapping[date, DayFacts]:
        """Return the facts of one arm by day."""
        return self.facts.get(arm, {})

    def turns(self, arm: str) -> set[date]:
        """Return the days at whose start a received routine or a release may change an arm's state."""
        return {on for on, _ in self.receipts} | set(self.releases.get(arm, {}))

    def version_on(self, day: date) -> int:
        """Return the newest version received by a day, or 0; an older version that is received later changes nothing."""
        return max((version for on, version in self.receipts if on <= day), default=0)


def read_diary(logged: Iterable[LoggedEvent], versions: Iterable[int]) -> Diary:
    """Read a log.

    Args:
        logged: Stored events, in any order.
        versions: The routine versions that exist; received versions that do not exist are ignored.
    """
    events = entries_of(logged)
    known = frozenset(versions)
    receipts = {
        (event.on, event.body["version"])
        for event in events
        if event.kind == "routine_received" and event.body["version"] in known
    }
    return Diary(facts_by_arm(of_phones(events)), tuple(sorted(receipts)), _releases(events))


def entries_of(logged: Iterable[LoggedEvent]) -> list[Event]:
    """Decode stored events; events that do not fit their kind are left out."""
    return [event for event in (_read(stored.raw) for stored in logged) if event]


@lru_cache(ENTRIES_KEPT)
def _read(raw: str) -> Event | None:
    try:
        return decode(msgspec.json.decode(raw))
    except EventError:
        # An older program stored the event without knowing its kind. This program knows the kind, and the event does not fit.
        return None


def of_phones(events: Iterable[Event]) -> list[Event]:
    """Return the events without those of the practice, so that a phone's correction can never replace one of those.

    A correction that comes too late to take a stop away is left out too.
    """
    return without_lowered_stops(event for event in events if event.kind not in PRACTICE_KINDS)


def _releases(events: list[Event]) -> dict[str, dict[date, Return]]:
    released = [event for event in events if event.kind == "hold_released"]
    sharp = sharp_entries(of_phones(events)) if released else {}
    found: dict[str, dict[date, Return]] = {}
    for event in released:
        for arm, release in event.body["arms"].items():
            if _covers(release["covers"], sharp.get(arm, {}), event.on):
                days, chosen = found.setdefault(arm, {}), Return(release["rung"], ease_of(release["range"]))
                # Of two releases for the same day the more careful release counts: the lower rung, then the smaller range.
                days[event.on] = min(chosen, days.get(event.on, chosen), key=lambda each: (each.rung, -each.ease))
    return found


def _covers(covered: Sequence[str], sharp: Mapping[str, date], day: date) -> bool:
    # The practitioner has not seen a sharp entry that the release does not name, so the hold stays.
    return {id_ for id_, on in sharp.items() if on < day} <= set(covered)

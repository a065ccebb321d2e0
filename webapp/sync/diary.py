"""A client's log as the fold wants it: facts by arm and day, the days routines came, the days holds ended.

Built from events in any order; the same events always give the same diary.
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
from webapp.sync.facts import facts_by_arm, sharp_entries

ENTRIES_KEPT = 4096
"""Entries that stay decoded in memory, some 4 kB each: a page reads the same ones several times, and so does the next."""


@dataclass(frozen=True)
class Diary:
    """What a client's log says.

    Attributes:
        facts: For each arm, what is known of each day.
        receipts: (day, version) of every routine received, sorted.
        releases: For each arm, where it comes back by the day on which a hold ends; only releases that cover every
            sharp entry about a day before theirs.
    """

    facts: Mapping[str, Mapping[date, DayFacts]] = field(default_factory=dict)
    receipts: tuple[tuple[date, int], ...] = ()
    releases: Mapping[str, Mapping[date, Return]] = field(default_factory=dict)

    def of_arm(self, arm: str) -> Mapping[date, DayFacts]:
        """Give the facts of one arm by day."""
        return self.facts.get(arm, {})

    def turns(self, arm: str) -> set[date]:
        """Give the days at whose start something from outside may change an arm's state."""
        return {on for on, _ in self.receipts} | set(self.releases.get(arm, {}))

    def version_on(self, day: date) -> int:
        """Give the newest version received by a day, or 0: an older one that comes later changes nothing."""
        return max((version for on, version in self.receipts if on <= day), default=0)


def read_diary(logged: Iterable[LoggedEvent], versions: Iterable[int]) -> Diary:
    """Read a log.

    Args:
        logged: Stored events, in any order.
        versions: The routine versions that exist; receipts of others count for nothing.
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
    """Decode stored events; those that do not fit their kind are left out."""
    return [event for event in (_read(one.raw) for one in logged) if event]


@lru_cache(ENTRIES_KEPT)
def _read(raw: str) -> Event | None:
    try:
        return decode(msgspec.json.decode(raw))
    except EventError:
        # Stored when its kind was not known; a newer program knows it and finds that it does not fit.
        return None


def of_phones(events: Iterable[Event]) -> list[Event]:
    """Leave out what the practice wrote: a phone's correction must not reach it, so it is no target."""
    return [event for event in events if event.kind not in PRACTICE_KINDS]


def _releases(events: list[Event]) -> dict[str, dict[date, Return]]:
    released = [event for event in events if event.kind == "hold_released"]
    sharp = sharp_entries(of_phones(events)) if released else {}
    found: dict[str, dict[date, Return]] = {}
    for event in released:
        for arm, told in event.body["arms"].items():
            if _covers(told["covers"], sharp.get(arm, {}), event.on):
                days, chosen = found.setdefault(arm, {}), Return(told["rung"], ease_of(told["range"]))
                # Of two releases for one day the careful one counts: the lower rung, then the smaller range.
                days[event.on] = min(chosen, days.get(event.on, chosen), key=lambda each: (each.rung, -each.ease))
    return found


def _covers(covered: Sequence[str], sharp: Mapping[str, date], day: date) -> bool:
    # What came to the log after the practitioner looked was not weighed, whenever it came: the hold stays.
    return {id_ for id_, on in sharp.items() if on < day} <= set(covered)

"""A client's log as the fold wants it: facts by arm and day, the days routines came, the days holds ended.

Built from events in any order; the same events always give the same diary.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

import msgspec

from webapp.dosing.course import DayFacts
from webapp.events.codec import decode
from webapp.events.kinds import PRACTICE_KINDS, Event, EventError
from webapp.records.events import LoggedEvent
from webapp.sync.facts import facts_by_arm


@dataclass(frozen=True)
class Diary:
    """What a client's log says.

    Attributes:
        facts: For each arm, what is known of each day.
        receipts: (day, version) of every routine received, sorted.
        releases: For each arm, the rung by the day on which a hold ends.
    """

    facts: Mapping[str, Mapping[date, DayFacts]] = field(default_factory=dict)
    receipts: tuple[tuple[date, int], ...] = ()
    releases: Mapping[str, Mapping[date, int]] = field(default_factory=dict)

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
    events = [event for event in map(_read, logged) if event]
    known = frozenset(versions)
    receipts = {
        (event.on, event.body["version"])
        for event in events
        if event.kind == "routine_received" and event.body["version"] in known
    }
    return Diary(facts_by_arm(_without_practice(events)), tuple(sorted(receipts)), _releases(events))


def _read(logged: LoggedEvent) -> Event | None:
    try:
        return decode(msgspec.json.decode(logged.raw))
    except EventError:
        # Stored when its kind was not known; a newer program knows it and finds that it does not fit.
        return None


def _without_practice(events: list[Event]) -> list[Event]:
    # A phone's correction must not reach what the practice wrote, so those entries are not its targets.
    return [event for event in events if event.kind not in PRACTICE_KINDS]


def _releases(events: list[Event]) -> dict[str, dict[date, int]]:
    found: dict[str, dict[date, int]] = {}
    for event in events:
        if event.kind == "hold_released":
            for arm, told in event.body["arms"].items():
                days = found.setdefault(arm, {})
                # Two releases for one day: the lower rung is the careful one.
                days[event.on] = min(told["rung"], days.get(event.on, told["rung"]))
    return found

"""The way back to a sport or to work with the hands: opened and ended by the practice, with sport noted by the client.

Sport on the way back is an `exposure_noted` with a `step`; what it says of each arm counts like a session's worst. `up` says that it was the
first sport of the way back or of a higher step, `amount` how much it was beside what the step asks, `strokes` how many were counted.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.events import arriving, kinds, values
from webapp.events.kinds import Event

OPENED, ENDED = "return_opened", "return_ended"
MOST_STEP = 50
MOST_STROKES = 10_000
GATE = ("no_flare", "mornings", "sessions", "own_activity", "not_too_soon", "clinician")
"""The points of the gate; `ticked` names those that the practitioner answered for, the others the log told."""
_ID_LENGTH = 40
_REASON_LENGTH = 280
_NAME_LENGTH = 80


def _opened(body: dict[str, Any]) -> None:
    values.text(body.get("ladder"), "body.ladder", _ID_LENGTH)
    values.whole(body.get("step"), "body.step", 1, MOST_STEP)
    for point in values.list_of(body.get("gate"), "body.gate", len(GATE)):
        values.one_of(point, "body.gate", GATE)
    for point in values.list_of(body.get("ticked", []), "body.ticked", len(GATE)):
        values.one_of(point, "body.ticked", GATE)
    if "seen_by" in body:
        arriving.seen_by(body["seen_by"], "body.seen_by")
    _said(body)


def _said(body: dict[str, Any]) -> None:
    values.text(body.get("reason"), "body.reason", _REASON_LENGTH)
    values.text(body.get("by"), "body.by", _NAME_LENGTH)


CHECKS = {OPENED: _opened, ENDED: _said}
"""By kind, what raises an EventError for a fault."""


def check_sport(body: dict[str, Any]) -> None:
    """Check what sport on the way back says beside the rest; raise an EventError for a fault."""
    if "step" not in body:
        return
    values.whole(body["step"], "body.step", 1, MOST_STEP)
    values.truth(body.get("up", False), "body.up")
    values.one_of(body.get("amount", kinds.ASKED), "body.amount", kinds.AMOUNTS)
    values.whole(body.get("strokes", 0), "body.strokes", 0, MOST_STROKES)
    for arm, report in values.object_of(body.get("arms"), "body.arms").items():
        values.one_of(arm, "body.arms", kinds.ARMS)
        felt = values.object_of(report, f"body.arms.{arm}")
        if felt.get("worst", "") is not None:
            values.whole(felt.get("worst"), f"body.arms.{arm}.worst", 0, 10)
        values.truth(felt.get("sharp", False), f"body.arms.{arm}.sharp")


@dataclass(frozen=True)
class WayOpened:
    """A way back that is open: the id of its ladder, the step it begins with, its first day, the reason that the client reads, by whom.

    `ticked` are the points of the gate that the practitioner answered for.
    """

    ladder: str
    step: int
    on: date
    reason: str
    by: str
    ticked: tuple[str, ...] = ()


def ways_told(events: Iterable[Event]) -> list[tuple[date, WayOpened | None]]:
    """List (day, the way back that is open from that day on, or None) in order; of one day, in the order of the log's numbers."""
    found = {event.id: event for event in events if event.kind in CHECKS}
    ordered = sorted(found.values(), key=lambda each: (each.on, each.seq, each.id))
    return [(event.on, _way(event)) for event in ordered]


def _way(event: Event) -> WayOpened | None:
    body = event.body
    if event.kind == ENDED:
        return None
    return WayOpened(body["ladder"], body["step"], event.on, body["reason"], body["by"], tuple(body.get("ticked", ())))


def way_on(ways: Iterable[tuple[date, WayOpened | None]], day: date) -> WayOpened | None:
    """Return the way back that is open on a day, of `ways_told`, or None."""
    begun = [way for on, way in ways if on <= day]
    return begun[-1] if begun else None

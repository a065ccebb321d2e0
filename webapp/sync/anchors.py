"""Where each arm stands at the start of a phone's day, for every way the day before may still turn out.

The morning report of the day before may come late; so an anchor holds a state for each response
to that day, and the phone picks one when it knows.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from webapp.dosing.closing import close_day
from webapp.dosing.course import BEFORE_DAYS, NOTHING
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.settings import Tuning
from webapp.dosing.state import State
from webapp.records.database import Database
from webapp.sync.checkpoint import resume
from webapp.sync.fold import ONE_DAY, SHARP, Course, Place, is_same_but_title


@dataclass(frozen=True)
class Anchor:
    """One arm at the start of a day.

    Attributes:
        on: The day.
        mornings: The reports made on the three days before it, the oldest first, each a rating or None.
        states: By the response to the day before, in the order of `RESPONSES`.
        why: For each of them, the ids of the rules that led there.
        has_asked: Whether the day before asked anything of the arm; else what was done on it counts as a part.
        eve_cube: The cube that classes the day before, where a new routine came with another usual pain or ceiling.
    """

    on: date
    mornings: tuple[int | None, ...]
    states: tuple[State, ...]
    why: tuple[tuple[str, ...], ...]
    has_asked: bool = True
    eve_cube: str | None = None


def anchors_of(db: Database, client: int, on: date, version: int) -> dict[str, Anchor]:
    """Work out a client's anchors.

    Args:
        db: The records.
        client: Whose.
        on: The phone's day.
        version: The routine version that the phone has or is about to get; counted as received.

    Returns:
        An anchor for each arm that this version asks for.
    """
    course, start, places = resume(db, client, on - ONE_DAY)
    return {arm: anchor_of(course, arm, start, places.get(arm), on, version) for arm in _arms(course, version)}


def _arms(course: Course, version: int) -> tuple[str, ...]:
    return course.plans[version].client.arms if version in course.plans else ()


def anchor_of(course: Course, arm: str, start: date, place: Place | None, on: date, version: int) -> Anchor:
    """Work out the anchor of one arm, from where it stood when the day before `start` was closed."""
    yesterday = on - ONE_DAY
    _, place = course.run(arm, place, start, yesterday)
    place = course.enter(arm, place, yesterday)
    ends = [_close(course, place, response) for response in RESPONSES]
    # A sharp day before may be one that no release covers: the phone, which knows the entries, looks that up.
    starts = [
        (course.enter(arm, end, on, newest=version, may_release=response != SHARP, eve=response), end, reasons)
        for response, (end, reasons) in zip(RESPONSES, ends, strict=True)
    ]
    found = [(begun.state, _why(course, begun, end, reasons)) for begun, end, reasons in starts if begun is not None]
    assert len(found) == len(RESPONSES), "a version that asks for an arm gives it a state"
    states, why = zip(*found, strict=True)
    facts = course.diary.of_arm(arm)
    mornings = tuple(facts.get(on - number * ONE_DAY, NOTHING).morning for number in range(BEFORE_DAYS + 1, 1, -1))
    has_asked = place is None or place.state.mode == "training"
    return Anchor(on, mornings, states, why, has_asked, _eve_cube(course, place, version))


def _eve_cube(course: Course, place: Place | None, version: int) -> str | None:
    """Return the cube of the day before where it is not that of the version."""
    if place is None:
        return None
    (usual, tuning), new = _classing(course, place.version), _classing(course, version)
    return cube(usual, tuning) if (usual, tuning.settled_during) != (new[0], new[1].settled_during) else None


def _classing(course: Course, version: int) -> tuple[int, Tuning]:
    plan = course.plans[version]
    return plan.client.usual, plan.tuning


def _close(course: Course, place: Place | None, response: str) -> tuple[Place | None, tuple[str, ...]]:
    if place is None:
        return None, ()
    closing = close_day(course.plans[place.version], place.state, response)
    return Place(place.version, closing.state), closing.reasons


def _why(course: Course, start: Place, end: Place | None, reasons: tuple[str, ...]) -> tuple[str, ...]:
    """Name what led to the start of the day: the day's closing, or what came between."""
    if end is None:
        return ("stop",) if start.state.mode == "held" else ("start",)
    old, new = course.plans[end.version], course.plans[start.version]
    has_switched = start.version != end.version and not is_same_but_title(old, new)
    if has_switched and start.state.mode != "held":
        was_chosen = new.client.start_rung is not None
        return ("own-hand",) if was_chosen else ("carried-over",)
    return ("released",) if end.state.mode == "held" != start.state.mode else reasons


def new_states(anchors: Mapping[str, Anchor]) -> frozenset[State]:
    """Give every state that the anchors name."""
    return frozenset(state for anchor in anchors.values() for state in anchor.states)

"""Where each arm stands at the start of a phone's day, for every way the day before may still turn out.

The morning report of the day before may come late; so an anchor holds a state for each response
to that day, and the phone picks one when it knows.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from webapp.dosing.course import BEFORE_DAYS, NOTHING
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.settings import Tuning
from webapp.dosing.state import State
from webapp.records.database import Database, write
from webapp.sync.checkpoint import Resumed, keep, resume
from webapp.sync.fold import ONE_DAY, SHARP, Course
from webapp.sync.switch import Changed, Place, why_begun

CALM, TROUBLED = "settled", "flared"
"""Responses that stand for a day that was no stop and no flare, and for one that was."""


class Starts(NamedTuple):
    """Where an arm may stand at the start of a day.

    Attributes:
        states: By the response to the day before, in the order of `RESPONSES`.
        why: For each of them, the ids of the rules that led there.
        changed: For each of them, the last change of what is asked, or None.
    """

    states: tuple[State, ...]
    why: tuple[tuple[str, ...], ...]
    changed: tuple[Changed | None, ...]


@dataclass(frozen=True)
class Anchor:
    """One arm at the start of a day.

    Attributes:
        on: The day.
        mornings: The reports made on the three days before it, the oldest first, each a rating or None.
        states: By the response to the day before, in the order of `RESPONSES`.
        why: For each of them, the ids of the rules that led there.
        changed: For each of them, the last change of what is asked, or None.
        has_asked: Whether the day before asked anything of the arm; else what was done on it counts as a part.
        eve_cube: The cube that classes the day before, where a new routine came with another usual pain or ceiling.
        if_troubled: Where the arm stands if the day itself turns out to be a stop or a flare, which undoes a rise by
            hand that would have taken effect on it; None where that makes no difference.
    """

    on: date
    mornings: tuple[int | None, ...]
    states: tuple[State, ...]
    why: tuple[tuple[str, ...], ...]
    changed: tuple[Changed | None, ...]
    has_asked: bool = True
    eve_cube: str | None = None
    if_troubled: Starts | None = None


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
    resumed = resume(db, client, on - ONE_DAY)
    if resumed.moved:
        with write(db):
            keep(db, client, resumed)
    return anchors_from(resumed, on, version)


def anchors_from(resumed: Resumed, on: date, version: int) -> dict[str, Anchor]:
    """Work out a client's anchors as `anchors_of` does, from a fold that can be resumed at the day before `on`."""
    course, start = resumed.course, resumed.start
    return {arm: anchor_of(course, arm, start, resumed.place(arm), on, version) for arm in _arms(course, version)}


def _arms(course: Course, version: int) -> tuple[str, ...]:
    return course.plans[version].client.arms if version in course.plans else ()


def anchor_of(course: Course, arm: str, start: date, place: Place | None, on: date, version: int) -> Anchor:
    """Work out the anchor of one arm, from where it stood when the day before `start` was closed."""
    yesterday = on - ONE_DAY
    _, place = course.run(arm, place, start, yesterday)
    eves = _eves(course, arm, place, yesterday)
    calm = _starts(course, arm, eves, on, version, CALM)
    is_switched = any(eve is None or eve.version < max(course.diary.version_on(on), version) for eve in eves)
    # What the day itself turns out to be undoes a rise by hand, and only a version that begins on it brings one.
    troubled = _starts(course, arm, eves, on, version, TROUBLED) if is_switched else calm
    facts = course.diary.of_arm(arm)
    mornings = tuple(facts.get(on - number * ONE_DAY, NOTHING).morning for number in range(BEFORE_DAYS + 1, 1, -1))
    has_asked = eves[0] is None or eves[0].state.mode == "training"
    if_troubled = troubled if troubled != calm else None
    return Anchor(on, mornings, *calm, has_asked, _eve_cube(course, eves[0], version), if_troubled)


def _eves(course: Course, arm: str, place: Place | None, yesterday: date) -> list[Place | None]:
    """Return where an arm stood at the start of the day before, for every way that day may turn out.

    How it turns out may undo a rise by hand that would have taken effect on it; without a new version all are one.
    """
    if place is not None and place.version >= course.diary.version_on(yesterday):
        return [course.enter(arm, place, yesterday)] * len(RESPONSES)
    return [course.enter(arm, place, yesterday, own=response) for response in RESPONSES]


def _starts(course: Course, arm: str, eves: Sequence[Place | None], on: date, version: int, own: str) -> Starts:
    """Return where an arm stands on a day, for every response to the day before and one to the day itself."""
    ends = [_close(course, place, on, response) for place, response in zip(eves, RESPONSES, strict=True)]
    # A sharp day before may be one that no release covers: the phone, which knows the entries, looks that up.
    starts = [
        (course.enter(arm, end, on, newest=version, may_release=response != SHARP, eve=response, own=own), end, reasons)
        for response, (end, reasons) in zip(RESPONSES, ends, strict=True)
    ]
    found = [
        (begun.state, why_begun(course.plans, arm, end, begun, reasons), begun.changed)
        for begun, end, reasons in starts
        if begun is not None
    ]
    assert len(found) == len(RESPONSES), "a version that asks for an arm gives it a state"
    return Starts(*zip(*found, strict=True))


def _eve_cube(course: Course, place: Place | None, version: int) -> str | None:
    """Return the cube of the day before where it is not that of the version."""
    if place is None:
        return None
    (usual, tuning), new = _classing(course, place.version), _classing(course, version)
    return cube(usual, tuning) if (usual, tuning.settled_during) != (new[0], new[1].settled_during) else None


def _classing(course: Course, version: int) -> tuple[int, Tuning]:
    plan = course.plans[version]
    return plan.client.usual, plan.tuning


def _close(course: Course, place: Place | None, on: date, response: str) -> tuple[Place | None, tuple[str, ...]]:
    return (None, ()) if place is None else course.close(place, on - ONE_DAY, response)


def new_states(anchors: Mapping[str, Anchor]) -> frozenset[State]:
    """Give every state that the anchors name."""
    troubled = [state for anchor in anchors.values() if anchor.if_troubled for state in anchor.if_troubled.states]
    return frozenset([*troubled, *(state for anchor in anchors.values() for state in anchor.states)])

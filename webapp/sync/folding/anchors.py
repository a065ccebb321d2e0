"""The anchor of each arm: its state at the start of a phone's day, for each possible response to the day before.

The morning report about the day before may come late. So an anchor has a state for each response to that day, and the
phone picks a state when it knows the response. Reports may come up to three days late. So an anchor lies that far back where
the same routine was in force, and the phone follows the days from there by its own log.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import BEFORE_DAYS, NOTHING
from webapp.dosing.responses import RESPONSES, cube
from webapp.dosing.settings import Tuning
from webapp.dosing.state import State
from webapp.records.database import Database, write
from webapp.sync.folding.checkpoint import Resumed, keep, resume
from webapp.sync.folding.fold import ONE_DAY, SHARP, Course
from webapp.sync.folding.switch import Changed, Progress, why_begun

LATE_DAYS = figures.LATE_MORNINGS.value * ONE_DAY
"""So late a phone takes a morning report. What it takes it must be able to decide by itself, so the anchor lies as far back."""
CALM, TROUBLED = "settled", "flared"
"""Responses that stand for a day that was no stop and no flare, and for one that was."""


class Starts(NamedTuple):
    """The possible states of an arm at the start of a day.

    Attributes:
        states: A state for each response to the day before, in the order of `RESPONSES`.
        why: For each state, the ids of the rules that led to it.
        changed: For each state, the last change of the dose, or None.
    """

    states: tuple[State, ...]
    why: tuple[tuple[str, ...], ...]
    changed: tuple[Changed | None, ...]


@dataclass(frozen=True)
class Anchor:
    """One arm at the start of a day.

    Attributes:
        on: The day.
        mornings: The ratings in the reports of the three mornings before it, the oldest first, each 0-10 or None.
        states: A state for each response to the day before, in the order of `RESPONSES`.
        why: For each state, the ids of the rules that led to it.
        changed: For each state, the last change of the dose, or None.
        has_asked: Whether the arm had a dose on the day before; if not, a session on that day counts as partly done.
        eve_cube: The cube that classes the day before, if a new routine with another usual pain or ceiling came since.
        if_troubled: The states if the day itself is a stop or a flare: then a rise by hand on that day has no effect. None
            if the states are the same.
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
    """Compute a client's anchors.

    Args:
        db: The records.
        client: The client's key.
        on: The day.
        version: The newest routine version, which the phone has or is about to get; it counts as received.

    Returns:
        An anchor for each arm in this version.
    """
    resumed = resume(db, client, on - ONE_DAY)
    if resumed.moved:
        with write(db):
            keep(db, client, resumed)
    return anchors_from(resumed, on, version)


def anchors_from(resumed: Resumed, on: date, version: int) -> dict[str, Anchor]:
    """Compute a client's anchors as `anchors_of` does, from a fold that can be resumed at the day before `on`."""
    course, start = resumed.course, resumed.start
    return {arm: anchor_of(course, arm, start, resumed.progress(arm), on, version) for arm in _arms(course, version)}


def anchor_day(resumed: Resumed, on: date, version: int) -> date:
    """Return the day of the anchors for a phone's day: `LATE_DAYS` before it, but not before the routine version came.

    An older version has another almanac, which a phone no longer has. A fold that goes on from a checkpoint has no receipts from
    before it, but knows the version that was followed there.
    """
    is_older = any(reached.progress.version == version for reached in resumed.reached.values())
    receipts = resumed.course.diary.receipts
    came = [resumed.start] if is_older else [day for day, received in receipts if received == version and day <= on]
    return max(min(came, default=on), on - LATE_DAYS)


def _arms(course: Course, version: int) -> tuple[str, ...]:
    return course.plans[version].client.arms if version in course.plans else ()


def anchor_of(course: Course, arm: str, start: date, progress: Progress | None, on: date, version: int) -> Anchor:
    """Compute the anchor of one arm, from its progress after the day before `start` was closed."""
    yesterday = on - ONE_DAY
    _, progress = course.run(arm, progress, start, yesterday)
    eves = _eves(course, arm, progress, yesterday)
    calm = _starts(course, arm, eves, on, version, CALM)
    is_switched = any(eve is None or eve.version < max(course.diary.version_on(on), version) for eve in eves)
    # The response to the day itself matters only for a rise by hand, and only a version that begins on the day brings one.
    troubled = _starts(course, arm, eves, on, version, TROUBLED) if is_switched else calm
    facts = course.diary.of_arm(arm)
    mornings = tuple(facts.get(on - number * ONE_DAY, NOTHING).morning for number in range(BEFORE_DAYS + 1, 1, -1))
    has_asked = eves[0] is None or eves[0].state.mode == "training"
    if_troubled = troubled if troubled != calm else None
    return Anchor(on, mornings, *calm, has_asked, _eve_cube(course, eves[0], version), if_troubled)


def _eves(course: Course, arm: str, progress: Progress | None, yesterday: date) -> list[Progress | None]:
    """Return the arm's progress at the start of the day before, for each response to that day.

    The response matters only for a rise by hand on that day. Without a new version all entries are the same.
    """
    if progress is not None and progress.version >= course.diary.version_on(yesterday):
        return [course.enter(arm, progress, yesterday)] * len(RESPONSES)
    return [course.enter(arm, progress, yesterday, own=response) for response in RESPONSES]


def _starts(course: Course, arm: str, eves: Sequence[Progress | None], on: date, version: int, own: str) -> Starts:
    """Return the states of an arm on a day, for each response to the day before and one response to the day itself."""
    ends = [_close(course, progress, on, response) for progress, response in zip(eves, RESPONSES, strict=True)]
    # If the day before is sharp, a release may not cover it. The phone knows the entries, and looks up whether it does.
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


def _eve_cube(course: Course, progress: Progress | None, version: int) -> str | None:
    """Return the cube that classes the day before, or None if it is the version's own cube."""
    if progress is None:
        return None
    (usual, tuning), new = _classing(course, progress.version), _classing(course, version)
    return cube(usual, tuning) if (usual, tuning.settled_during) != (new[0], new[1].settled_during) else None


def _classing(course: Course, version: int) -> tuple[int, Tuning]:
    plan = course.plans[version]
    return plan.client.usual, plan.tuning


def _close(
    course: Course, progress: Progress | None, on: date, response: str
) -> tuple[Progress | None, tuple[str, ...]]:
    return (None, ()) if progress is None else course.close(progress, on - ONE_DAY, response)


def new_states(anchors: Mapping[str, Anchor]) -> frozenset[State]:
    """Return all states in the anchors."""
    troubled = [state for anchor in anchors.values() if anchor.if_troubled for state in anchor.if_troubled.states]
    return frozenset([*troubled, *(state for anchor in anchors.values() for state in anchor.states)])

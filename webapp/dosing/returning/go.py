"""Where a client stands on a return ladder, and the ladder itself."""

from math import ceil
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.settings import Bound

STEP_DAYS = int(figures.RETURN_STEP_DAYS.value)
MOST_A_WEEK = int(figures.RETURN_DAYS_A_WEEK.value)
CALM_MORNINGS = int(figures.RETURN_CALM_MORNINGS.value)
REST_DAYS = int(figures.RETURN_REST_DAYS.value)
FLARE_DAYS = int(figures.RETURN_FLARE_DAYS.value)
APART_DAYS = int(figures.LEVERS_APART.value)
LATELY_DAYS = 6
"""The days before today that are looked at, so that with today they are a week."""

STEP_DAYS_A_WEEK = Bound(1, MOST_A_WEEK, "days", "own-choice")
STEP_MINUTES = Bound(1, 600, "minutes", "own-choice")
STEP_STROKES = Bound(0, 10_000, "strokes", "own-choice")

OPEN, WAITING, RESTING, STOPPED, AWAY = "open", "waiting", "resting", "stopped", "away"
GO_MODES = (OPEN, WAITING, RESTING, STOPPED, AWAY)
"""Sport is possible; it waits for a calm morning; it rests after a flare; it is stopped; it ended by a long absence."""


class ReturnStep(NamedTuple):
    """One step of a ladder: sport on at most so many days of seven, at most so many minutes each, strokes at most (0: not counted)."""

    days_a_week: int
    minutes: int
    most_strokes: int = 0

    @property
    def least_minutes(self) -> int:
        """The fewest minutes of sport that count towards the next step: what was not done earns nothing."""
        return ceil(self.minutes * figures.ENOUGH_DONE.value)


class ReturnLadder(NamedTuple):
    """A ladder: its name in content/, and its steps, the easiest first."""

    id: str
    steps: tuple[ReturnStep, ...]

    def at(self, step: int) -> ReturnStep:
        """Return a step, 1 for the easiest."""
        return self.steps[step - 1]


class Go(NamedTuple):
    """One go at a step.

    Attributes:
        mode: One of `GO_MODES`.
        settled: Settled outings of this go, up to `MOST_A_WEEK`.
        days: Days since this go began, up to `STEP_DAYS`.
        fails: Goes that failed since a step was last passed.
        calm: While resting, calm mornings in a row.
        rest: While resting, days of rest.
    """

    mode: str = OPEN
    settled: int = 0
    days: int = 0
    fails: int = 0
    calm: int = 0
    rest: int = 0


class ReturnState(NamedTuple):
    """A client's place on a ladder at the start of a day.

    Attributes:
        step: The step of the last outing, 1 for the easiest.
        go: The go at it.
        lately: Days with sport among the last six: bit 0 is yesterday, bit 5 six days ago.
        away: Days in a row without sport, up to the last limit of `rules.ABSENCES`.
        flare: Days for which the last flare still counts; 0 for none.
    """

    step: int = 1
    go: Go = Go()
    lately: int = 0
    away: int = 0
    flare: int = 0


def is_due(ladder: ReturnLadder, step: int, go: Go) -> bool:
    """Say whether the step is passed and there is a higher one."""
    return is_passed(ladder, step, go) and step < len(ladder.steps)


def is_passed(ladder: ReturnLadder, step: int, go: Go) -> bool:
    """Say whether all that the step asks was settled, and its week is over."""
    return passes(go, ladder.at(step).days_a_week)


def passes(go: Go, days_a_week: int) -> bool:
    """Say whether a go has passed a step that asks for so many settled outings."""
    return go.mode == OPEN and go.settled >= days_a_week and go.days >= STEP_DAYS


def step_today(ladder: ReturnLadder, state: ReturnState, *, is_clear: bool) -> int:
    """Return the step of an outing today.

    Args:
        ladder: The ladder.
        state: The place on it.
        is_clear: Whether the exercises raised nothing within the last 72 hours. Until then the step stays.
    """
    return state.step + (is_clear and is_due(ladder, state.step, state.go))


def is_free(days_a_week: int, lately: int) -> bool:
    """Say whether the last six days leave room for sport today: none yesterday, and fewer than the step allows in seven."""
    return not lately & 1 and lately.bit_count() < days_a_week


def may_go(ladder: ReturnLadder, state: ReturnState, *, is_clear: bool) -> bool:
    """Say whether the ladder allows sport today. A hold of an arm stands above it."""
    step = step_today(ladder, state, is_clear=is_clear)
    return state.go.mode == OPEN and is_free(ladder.at(step).days_a_week, state.lately)

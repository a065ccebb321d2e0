"""What a push does to a client today, arm by arm: the dose before and after, and whether it is a rise to be taken on."""

import hashlib
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import NOTHING, classed
from webapp.dosing.dose import range_of
from webapp.dosing.hand import CLOSE, NO_RISE, again_on, has_trouble, is_trouble, work_of
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.practice.standing import Line, Standing
from webapp.sync.fold import ArmAccount
from webapp.sync.switch import is_same_for, switched


class AskedWork(NamedTuple):
    """What a state asks of an arm on a day of training.

    Attributes:
        rung: Of its plan's ladder.
        ease: 0 none, 1 three-quarter range, 2 half range.
        sessions: How many that day.
        reps, side_reps: Of one session, palm down and palm up; and to either side.
        load_kg: The weight in the hand.
        range: Share of the full range.
        work_j: The whole day's work, joules.
    """

    rung: int
    ease: int
    sessions: int
    reps: int
    side_reps: int
    load_kg: float
    range: float
    work_j: float


class Effect(NamedTuple):
    """What a push does to one arm today.

    Attributes:
        arm: Which.
        mode: training, resting or held, today.
        before, after: What is asked today, and would be under the version; of an arm that rests or is held, as if it trained.
        is_chosen: Whether the version gives this arm a rung.
        keeps_counts: Whether the days counted so far go on, as under a version that changes nothing for this arm.
        cap: The most that one step may add, a share of the work before.
        troubled_on: The last day of a stop or a flare within seven days, or None.
    """

    arm: str
    mode: str
    before: AskedWork
    after: AskedWork
    is_chosen: bool
    keeps_counts: bool
    cap: float
    troubled_on: date | None

    @property
    def rise(self) -> float:
        """The work after as a share more than before; below 0 where it is less."""
        return self.after.work_j / self.before.work_j - 1

    @property
    def is_over_cap(self) -> bool:
        """Say whether the push adds more than one step of the ladder may."""
        return self.rise > self.cap + CLOSE

    @property
    def is_rise(self) -> bool:
        """Say whether the push asks more work or a heavier weight."""
        return self.rise > CLOSE or self.after.load_kg > self.before.load_kg

    @property
    def is_rise_too_soon(self) -> bool:
        """Say whether it is a rise by hand within seven days of a stop or a flare of this arm."""
        return self.is_chosen and self.is_rise and self.troubled_on is not None

    @property
    def again_on(self) -> date | None:
        """The first day on which a rise by hand is offered again, or None where it is offered now."""
        return again_on(self.troubled_on) if self.troubled_on else None


class Today(NamedTuple):
    """Where a client stands, and what a push does to each arm that follows a routine already."""

    line: Line
    effects: Sequence[Effect]

    @property
    def seal(self) -> str:
        """A short hash of the effects, so that a push does the very thing that was previewed."""
        return hashlib.sha256(repr(self.effects).encode()).hexdigest()[:16]


def today_under(line: Line, new: Plan) -> Today:
    """Work out what a version does to a client today."""
    return Today(line, [_effect(stand, new, line.today) for stand in line.standings])


def barred(line: Line) -> dict[str, tuple[date, date]]:
    """Return, for each arm that may not rise by hand today, the day of its stop or flare and the day it may again."""
    last = {stand.arm: max(_troubles(stand.account, line.today), default=None) for stand in line.standings}
    return {arm: (on, again_on(on)) for arm, on in last.items() if on}


def _effect(stand: Standing, new: Plan, today: date) -> Effect:
    old, state = stand.account.plan, stand.account.state
    before, after = _asked(old, state), _asked(new, switched(old, new, stand.arm, state))
    is_heavier = after.load_kg > before.load_kg
    cap = figures.HEAVIER_RISE.value if is_heavier else new.tuning.rise
    troubled_on = max(_troubles(stand.account, today), default=None)
    is_chosen = new.client.start_rungs.of(stand.arm) is not None
    keeps_counts = is_same_for(old, new, stand.arm)
    return Effect(stand.arm, stand.mode, before, after, is_chosen, keeps_counts, cap, troubled_on)


def _asked(plan: Plan, state: State) -> AskedWork:
    rung = plan.ladder.rung(state.rung)
    stage = rung.stage(state.first_week_stage)
    reps, side_reps = stage.reps.reps, stage.reps.side_reps
    range_, work = range_of(state.ease), work_of(plan, state)
    return AskedWork(rung.number, state.ease, stage.sessions, reps, side_reps, rung.load_kg, range_, work)


def _troubles(account: ArmAccount, today: date) -> Iterator[date]:
    """List the days of stops and flares, the last seven before today and today itself."""
    response, _ = classed(account.plan, account.facts.get(today, NOTHING), None)
    if is_trouble(response):
        yield today
    yield from (day.on for day in account.days if day.on >= today - NO_RISE and has_trouble(day))

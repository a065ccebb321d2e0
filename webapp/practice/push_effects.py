"""What a push does to a client today, arm by arm: the dose before and after, and whether it is a rise to be taken on."""

import hashlib
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import NOTHING, classed
from webapp.dosing.dose import dose, range_of
from webapp.dosing.plan import Plan
from webapp.dosing.responses import SHOWN
from webapp.dosing.state import State
from webapp.practice.standing import Line, Standing
from webapp.sync.fold import ArmAccount, is_same_but_title, switched

NO_RISE = timedelta(days=7)
"""How long after a stop or a flare no rise by hand is offered: our own choice, no source."""
STOPS_A_RISE = ("sharp", "flared")
CLOSE = 1e-9


class Asked(NamedTuple):
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
        keeps_counts: Whether the days counted so far go on, as under a version that changes its title or its note alone.
        cap: The most that one step may add, a share of the work before.
        troubled_on: The last day of a stop or a flare within seven days, or None.
    """

    arm: str
    mode: str
    before: Asked
    after: Asked
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
        """Say whether it is a rise within seven days of a stop or a flare of this arm."""
        return self.is_rise and self.troubled_on is not None

    @property
    def again_on(self) -> date | None:
        """The first day on which a rise by hand is offered again, or None where it is offered now."""
        return self.troubled_on + NO_RISE + timedelta(days=1) if self.troubled_on else None


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


def _effect(stand: Standing, new: Plan, today: date) -> Effect:
    old, state = stand.account.plan, stand.account.state
    before, after = _asked(old, state), _asked(new, switched(old, new, state))
    is_heavier = after.load_kg > before.load_kg
    cap = figures.HEAVIER_RISE.value if is_heavier else new.tuning.rise
    troubled_on = max(_troubles(stand.account, today), default=None)
    keeps_counts = is_same_but_title(old, new)
    return Effect(stand.arm, stand.mode, before, after, keeps_counts, cap, troubled_on)


def _asked(plan: Plan, state: State) -> Asked:
    rung = plan.ladder.rung(state.rung)
    stage = rung.stage(state.first_week_stage)
    reps, side_reps = stage.reps.reps, stage.reps.side_reps
    work = dose(plan, state._replace(mode="training", rest_days=0)).work_j
    return Asked(rung.number, state.ease, stage.sessions, reps, side_reps, rung.load_kg, range_of(state.ease), work)


def _troubles(account: ArmAccount, today: date) -> Iterator[date]:
    """List the days of stops and flares, the last seven before today and today itself."""
    response, _ = classed(account.plan, account.facts.get(today, NOTHING), None)
    if SHOWN[response] in STOPS_A_RISE:
        yield today
    for day in account.days:
        was_stopped = day.state_after.mode == "held" != day.state_before.mode
        if day.on >= today - NO_RISE and (was_stopped or SHOWN[day.response] in STOPS_A_RISE):
            yield day.on

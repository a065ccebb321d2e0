"""The effects of a push on a client today, arm by arm: the dose before and after, and whether it rises too much."""

import hashlib
from collections.abc import Iterator, Sequence
from datetime import date
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.course import NOTHING, classed
from webapp.dosing.dose import range_of
from webapp.dosing.hand import CLOSE, NO_RISE, again_on, has_trouble, is_trouble, work_of
from webapp.dosing.own_movements import lifted_share
from webapp.dosing.plan import Plan
from webapp.dosing.state import State
from webapp.practice.standing import Line, Standing
from webapp.sync.folding.arm_account import ArmAccount
from webapp.sync.folding.switch import is_same_for, switched


class AskedWork(NamedTuple):
    """The work of an arm on a day of training in a given state.

    Attributes:
        rung: The number of the rung on the plan's ladder.
        ease: 0 no ease, 1 three-quarter range, 2 half range.
        sessions: The number of sessions on that day.
        reps: The reps of one session, palm down and palm up.
        side_reps: The reps of one session to either side.
        load_kg: The weight in the hand, kg.
        range: The range of the movement as a share of the full range.
        work_j: The work of the whole day, joules.
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
    """The effect of a push on one arm today.

    Attributes:
        arm: The arm.
        mode: training, resting or held, today.
        before: Today's work under the present version; for an arm that rests or is held, as if it trained.
        after: The same under the new version.
        is_chosen: Whether the practitioner chose a rung for this arm.
        keeps_counts: Whether the counts of days go on, because the new version changes nothing for this arm.
        cap: The largest rise that one step may bring, as a share of the work before.
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
        """The rise of the work, as a share of the work before; below 0 if the work falls."""
        return self.after.work_j / self.before.work_j - 1

    @property
    def is_over_cap(self) -> bool:
        """Whether the push adds more work than one step of the ladder may."""
        return self.rise > self.cap + CLOSE

    @property
    def is_rise(self) -> bool:
        """Whether the push brings more work or a heavier weight."""
        return self.rise > CLOSE or self.after.load_kg > self.before.load_kg

    @property
    def is_to_tick(self) -> bool:
        """Whether the practitioner must take the rise on: it is more than one step, or any soon after a stop or a flare.

        The ladder brings no such rise by itself; the wider arc of another movement may.
        """
        return self.is_over_cap or (self.is_rise and (self.mode == "held" or self.troubled_on is not None))

    @property
    def is_rise_too_soon(self) -> bool:
        """Whether the practitioner raises the arm by hand within seven days after a stop or a flare of this arm."""
        return self.is_chosen and self.is_rise and self.troubled_on is not None

    @property
    def again_on(self) -> date | None:
        """The first day on which a rise by hand is possible again, or None if it is possible now."""
        return again_on(self.troubled_on) if self.troubled_on else None


class PushEffects(NamedTuple):
    """The effects of a push on a client today: the client, and the effect on each arm that already follows a routine."""

    line: Line
    effects: Sequence[Effect]

    @property
    def seal(self) -> str:
        """A short hash of the effects. A push is refused if its effects differ from those of the preview."""
        return hashlib.sha256(repr(self.effects).encode()).hexdigest()[:16]


def effects_of_push(line: Line, new: Plan) -> PushEffects:
    """Return the effects of a new version on a client today."""
    return PushEffects(line, [_effect(stand, new, line.today) for stand in line.standings])


def barred(line: Line) -> dict[str, tuple[date, date]]:
    """Return the arms that may not rise by hand today, each with (day of the stop or flare, first day of a new rise)."""
    last = {stand.arm: max(_troubles(stand.account, line.today), default=None) for stand in line.standings}
    return {arm: (on, again_on(on)) for arm, on in last.items() if on}


def _effect(stand: Standing, new: Plan, today: date) -> Effect:
    old, state = stand.account.plan, stand.account.state
    before, after = _work_under(old, state), _work_under(new, switched(old, new, stand.arm, state))
    is_heavier = after.load_kg > before.load_kg
    cap = figures.HEAVIER_RISE.value if is_heavier else new.tuning.rise
    troubled_on = max(_troubles(stand.account, today), default=None)
    is_chosen = new.client.start_rungs.of(stand.arm) is not None
    keeps_counts = is_same_for(old, new, stand.arm)
    return Effect(stand.arm, stand.mode, before, after, is_chosen, keeps_counts, cap, troubled_on)


def _work_under(plan: Plan, state: State) -> AskedWork:
    rung = plan.ladder.rung(state.rung)
    stage = rung.stage(state.first_week_stage)
    reps, side_reps = stage.reps.reps, stage.reps.side_reps
    # An own movement with a smaller arc lifts less than the ladder counts.
    range_, work = range_of(state.ease), work_of(plan, state) * lifted_share(plan, state)
    return AskedWork(rung.number, state.ease, stage.sessions, reps, side_reps, rung.load_kg, range_, work)


def _troubles(account: ArmAccount, today: date) -> Iterator[date]:
    """Yield the days with a stop or a flare, among the last seven days and today."""
    response, _ = classed(account.plan, account.facts.get(today, NOTHING), None)
    if is_trouble(response):
        yield today
    yield from (day.on for day in account.days if day.on >= today - NO_RISE and has_trouble(day))

"""A routine fitted to one client: what every rule reads beside the state."""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from webapp.dosing import figures
from webapp.dosing.faults import Fault
from webapp.dosing.first_week import grown
from webapp.dosing.ladder import Ladder, Rung, build_ladder
from webapp.dosing.settings import Client, Routine, Tuning
from webapp.dosing.state import SPREAD, TOGETHER, WHOLE, State

MOST_USUAL_FOR_A_STEP_UP = 2
STEPS_UP = 2
ALMOST = 1 + 1e-9


@dataclass(frozen=True)
class Plan:
    """A routine, a client, and the ladder that follows from both."""

    routine: Routine
    client: Client
    ladder: Ladder = field(repr=False)

    @cached_property
    def worked_out(self) -> dict[Hashable, Any]:
        """A cache for values that follow from this plan, keyed by what each value depends on."""
        return {}

    @property
    def tuning(self) -> Tuning:
        """The routine's tuning."""
        return self.routine.tuning

    @cached_property
    def climbs_by_hand(self) -> bool:
        """Whether the usual pain is so high that only the practitioner raises a rung."""
        return self.client.usual >= figures.USUAL_BY_HAND.value

    @cached_property
    def streak_after_release(self) -> int:
        """The settled streak right after a release, 0 or less.

        The first change after a release is a step of range, which needs a streak of `widen_days`. Counted from this
        number, that takes seven settled days.
        """
        return self.tuning.widen_days - int(figures.OWED_DAYS.value)

    @cached_property
    def most_streak(self) -> int:
        """The longest settled streak that matters; longer streaks count the same."""
        tuning = self.tuning
        return max(tuning.widen_days, tuning.climb_days, tuning.heavier_days)

    def is_top(self, state: State) -> bool:
        """Say whether there is no rung above."""
        return state.rung >= self.ladder.top

    def next_rung(self, state: State) -> Rung:
        """Return the rung above; an IndexError at the top."""
        return self.ladder.rung(state.rung + 1)

    def days_to_climb(self, state: State) -> int:
        """Return the settled days that the next rung needs."""
        tuning = self.tuning
        if not self.next_rung(state).heavier:
            return tuning.climb_days
        return min(tuning.fast_heavier_days, tuning.heavier_days) if is_fast(state) else tuning.heavier_days

    @cached_property
    def whole_from(self) -> tuple[int, ...]:
        """By rung from 1: the first stage of the first week that counts as the whole session.

        A stage counts as whole on a rung only where it is whole on all rungs up to the highest start rung as well. So a
        lower rung is never whole at an earlier stage than a higher one, and a worse course never gets ahead.
        """
        start = max(start_rung(self, arm) for arm in self.client.arms)
        last = len(self.ladder.rungs[0].stages)
        first: list[int] = []
        for rung in reversed(self.ladder.rungs):
            whole = [stage for stage in range(TOGETHER, last + 1) if rung.stage(stage).reps == rung.count]
            above = first[-1] if rung.number < start else TOGETHER
            first.append(max(above, whole[0] if whole else last))
        return tuple(reversed(first))

    def stage_from(self, rung: int, stage: int) -> int:
        """Return a stage of the first week on a rung, or 0 where it asks the whole session."""
        return stage if stage < self.whole_from[rung - 1] else WHOLE

    def stage_after_short_sessions(self, rung: int, stage: int) -> int:
        """Return the stage that follows the short sessions: the last one in which no set grows by more than half."""
        here, stages = self.ladder.rung(rung).stage(stage).reps, self.ladder.rung(rung).stages
        fitting = [
            number
            for number in range(TOGETHER, len(stages) + 1)
            if stages[number - 1].reps.reps <= grown(here.reps)
            and stages[number - 1].reps.side_reps <= grown(here.side_reps)
        ]
        return self.stage_from(rung, max(fitting, default=TOGETHER))

    def stage_after_stop(self, held: State, rung: int) -> int:
        """Return the stage in which an arm comes back to a rung after a stop.

        After short sessions it is one session with the sets of the first days. Where sets were growing, it is the stage
        of the stop, or an earlier stage if this rung would ask longer sets than the arm did at the stop.
        """
        stopped = held.first_week_stage
        if stopped == WHOLE:
            return WHOLE
        here, most = self.ladder.rung(rung), self.ladder.rung(held.rung).stage(stopped).reps
        fitting = [number for number in range(TOGETHER, stopped + 1) if here.stage(number).reps.is_within(most)]
        return self.stage_from(rung, max(fitting, default=TOGETHER))


def is_fast(state: State) -> bool:
    """Say whether two clean climbs in a row have earned the faster pace."""
    return state.pace >= 2  # noqa: PLR2004 - the rule's own number, named in the rule table


def make_plan(routine: Routine, client: Client) -> Plan:
    """Fit a routine to a client.

    Args:
        routine: Free of faults (see `settings.faults_of_routine`).
        client: Free of faults.
    """
    return Plan(routine, client, build_ladder(routine, client))


def faults_of_plan(plan: Plan) -> Iterator[Fault]:
    """Yield the faults of a routine and a client together: start rungs that the ladder does not have."""
    for arm in plan.client.arms:
        chosen = plan.client.start_rungs.of(arm)
        if chosen is not None and not 1 <= chosen <= plan.ladder.top:
            yield Fault("out_of_range", f"start_rungs.{arm}", chosen, (1, plan.ladder.top, "rungs"))


def start_rung(plan: Plan, arm: str) -> int:
    """Return the rung that an arm begins on.

    The chosen rung, at most the top. Without a choice: the third rung for a usual pain of 0 to 2, else the lowest.
    """
    chosen = plan.client.start_rungs.of(arm)
    if chosen is None:
        chosen = 1 + STEPS_UP if plan.client.usual <= MOST_USUAL_FOR_A_STEP_UP else 1
    return min(chosen, plan.ladder.top)


def start_state(plan: Plan, arm: str | None = None) -> State:
    """Return the state of an arm on its very first day.

    Args:
        plan: The routine fitted to the client.
        arm: The arm; it may be left out where the client has only one.

    Raises:
        ValueError: The arm is left out and the client has two.
    """
    if arm is None:
        (arm,) = plan.client.arms
    stage = SPREAD if plan.ladder.has_first_week else WHOLE
    return State(rung=start_rung(plan, arm), first_week_day=1, first_week_stage=stage)


def restarted(state: State) -> int:
    """Return the settled streak after counts begin again: 0, or less where days are still owed after a release."""
    return min(state.settled_streak, 0)


def _same_or_less(old: Plan, new: Plan, rung: int, held: State | None = None) -> int:
    """Return the highest rung of the new ladder that asks no more work than a rung of the old ladder.

    For a held arm it also asks no more weight and no longer sets. Without such a rung it is the lowest.
    """
    was = old.ladder.rung(rung)
    fitting = [
        each.number
        for each in new.ladder.rungs
        if each.work_j <= was.work_j * ALMOST and (held is None or asks_no_more(each, was, held.first_week_stage))
    ]
    return fitting[-1] if fitting else 1


def asks_no_more(rung: Rung, limit: Rung, stage: int) -> bool:
    """Say whether a rung asks no more weight and no longer sets than `limit`, both in this stage of the first week."""
    return rung.load_kg <= limit.load_kg and rung.stage(stage).reps.is_within(limit.stage(stage).reps)


def carry_over(old: Plan, new: Plan, state: State) -> State:
    """Return a state moved from one routine's ladder to another's.

    The rung is the highest that asks no more work than the old rung, or the lowest. For a held arm it asks no more
    weight and no more reps either. Ease, mode, days of rest and days of gap stay. Counts towards a change begin again.
    Where settled days are owed after a release, all seven are owed again.
    """
    rung = _same_or_less(old, new, state.rung, state if state.mode == "held" else None)
    return state.without_tender_days(state.ease)._replace(
        rung=rung,
        settled_streak=new.streak_after_release if state.settled_streak < 0 else 0,
        pace=0,
        gap_rung=_same_or_less(old, new, state.gap_rung) if state.gap_rung else 0,
        first_week_stage=new.stage_from(rung, state.first_week_stage),
    )

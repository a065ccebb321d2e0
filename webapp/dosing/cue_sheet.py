"""The ordered, timed steps of one session, without their words."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.dosing.dose import Dose, DoseSet, Hold
from webapp.dosing.plan import Plan
from webapp.dosing.settings import OwnLift, Tempo, WarmUp

KINDS = ("prepare", "warm_up", "reps", "rest", "hold", "change_arm", "done")


@dataclass(frozen=True)
class Step:
    """One step of a session.

    Attributes:
        kind: One of `KINDS`.
        movement: The movement's id; for `prepare` and `rest`, the one that comes next.
        seconds: The whole step.
        reps: Of a warm-up or a set; 0 otherwise.
        up_seconds, down_seconds: The two parts of one rep; equal in a warm-up.
        range: The day's share of the full range.
        load_kg: The weight in the hand.
    """

    kind: str
    movement: str | None
    seconds: float
    reps: int = 0
    up_seconds: float = 0
    down_seconds: float = 0
    range: float = 1.0
    load_kg: float = 0.0


def _warm_up(warm_up: WarmUp) -> Step:
    half = warm_up.seconds_each / 2
    return Step("warm_up", warm_up.movement, warm_up.seconds_each * warm_up.reps, warm_up.reps, half, half)


def _reps(tempo: Tempo | OwnLift, each: DoseSet) -> Step:
    seconds = each.reps * (tempo.up_seconds + tempo.down_seconds)
    return Step(
        "reps", each.movement, seconds, each.reps, tempo.up_seconds, tempo.down_seconds, each.range, each.load_kg
    )


def _hold(hold: Hold) -> Step:
    return Step("hold", hold.movement, hold.seconds)


def _active(plan: Plan, dose: Dose) -> Iterator[Step]:
    yield from (_warm_up(warm_up) for warm_up in dose.warm_ups)
    tempo, own = plan.routine.tempo, plan.routine.own_lift
    yield from (_reps(own(each.movement) or tempo, each) for each in dose.sets)
    yield from (_hold(hold) for hold in dose.holds)


def _lead_in(plan: Plan, last: Step | None, step: Step) -> Step:
    """Return the pause before a step: a rest after a set of reps, else time to get ready."""
    tempo = plan.routine.tempo
    rests = last is not None and last.kind == "reps"
    kind, seconds = ("rest", tempo.rest_seconds) if rests else ("prepare", tempo.prepare_seconds)
    return Step(kind, step.movement, seconds, range=step.range, load_kg=step.load_kg)


def write(plan: Plan, dose: Dose) -> tuple[Step, ...]:
    """Write one session's cue sheet for one arm.

    Args:
        plan: The routine fitted to the client.
        dose: Of a training day; an empty sheet follows from any other.

    Returns:
        Warm-ups, sets and stretches in order. A `prepare` or `rest` step comes before each, but only
        before the first of the warm-ups. A `done` step of no length ends the sheet.
    """
    steps: list[Step] = []
    for step in _active(plan, dose):
        last = steps[-1] if steps else None
        if not (last and last.kind == step.kind == "warm_up"):
            steps.append(_lead_in(plan, last, step))
        steps.append(step)
    return (*steps, Step("done", None, 0)) if steps else ()


def change_arm(plan: Plan) -> Step:
    """Return the step between one arm's sheet and the other's."""
    return Step("change_arm", None, plan.routine.tempo.change_arm_seconds)


def seconds_of(steps: tuple[Step, ...]) -> float:
    """Return the length of a sheet, in seconds."""
    return sum(step.seconds for step in steps)

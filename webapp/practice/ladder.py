"""A ladder as the preview tells it: one flight of rungs for each weight, and what would bridge a jump."""

from dataclasses import dataclass, replace
from itertools import groupby

from webapp.dosing.chain import Jump
from webapp.dosing.ladder import build_ladder
from webapp.dosing.plan import Plan

BOTTLE_KG = 0.5
"""Half a litre of water, the weight that most homes have."""
FINEST_KG = 0.05


@dataclass(frozen=True)
class Flight:
    """The rungs of one weight: first and last number, the reps of each, the share of the estimated maximum."""

    load_kg: float
    first: int
    last: int
    reps: tuple[int, ...]
    share: float


@dataclass(frozen=True)
class Gap:
    """A jump that reps do not bridge, and a weight that would, or None where one alone does not."""

    jump: Jump
    bridge_kg: float | None


def flights(plan: Plan) -> list[Flight]:
    """Group a plan's rungs by weight, from the bottom up."""
    told = []
    for load_kg, group in groupby(plan.ladder.rungs, key=lambda rung: rung.load_kg):
        rungs = list(group)
        reps = tuple(rung.count.reps for rung in rungs)
        told.append(Flight(load_kg, rungs[0].number, rungs[-1].number, reps, rungs[0].share))
    return told


def gaps(plan: Plan) -> list[Gap]:
    """List a plan's jumps, each with a weight that was tried and found to bridge it."""
    return [Gap(jump, _bridge(plan, jump)) for jump in plan.ladder.jumps]


def _bridge(plan: Plan, jump: Jump) -> float | None:
    steps = range(1, round((jump.to_kg - jump.from_kg) / FINEST_KG))
    between = [round(jump.from_kg + step * FINEST_KG, 2) for step in steps]
    middle = (jump.from_kg + jump.to_kg) / 2
    by_ease_of_finding = sorted(between, key=lambda kg: (kg != BOTTLE_KG, round(kg % 0.25, 2) > 0, abs(kg - middle)))
    return next((kg for kg in by_ease_of_finding if _is_bridged(plan, jump, kg)), None)


def _is_bridged(plan: Plan, jump: Jump, extra_kg: float) -> bool:
    weights = tuple(sorted({*plan.client.weights_kg, extra_kg}))
    ladder = build_ladder(plan.routine, replace(plan.client, weights_kg=weights))
    return not any(each.to_kg in (jump.to_kg, extra_kg) for each in ladder.jumps) and any(
        rung.load_kg == jump.to_kg for rung in ladder.rungs
    )

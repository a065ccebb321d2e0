"""The ladder in the preview: a flight of rungs for each weight, and the weights that would bridge a jump."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from webapp.dosing.chain import Jump
from webapp.dosing.ladder import bridge_for
from webapp.dosing.plan import Plan
from webapp.words import Words
from webapp.words.ladder import jump_lines


@dataclass(frozen=True)
class Flight:
    """The rungs with one weight: the first and last number, the reps of each rung, the share of the estimated maximum."""

    load_kg: float
    first: int
    last: int
    reps: tuple[int, ...]
    share: float


@dataclass(frozen=True)
class LadderGap:
    """A jump between two weights that more reps cannot bridge, and the sentences about it."""

    jump: Jump
    lines: list[str]


def flights(plan: Plan) -> list[Flight]:
    """Group a plan's rungs by weight, from the bottom up."""
    grouped = []
    for load_kg, group in groupby(plan.ladder.rungs, key=lambda rung: rung.load_kg):
        rungs = list(group)
        reps = tuple(rung.count.reps for rung in rungs)
        grouped.append(Flight(load_kg, rungs[0].number, rungs[-1].number, reps, rungs[0].share))
    return grouped


def gaps(words: Words, plan: Plan, weights: Sequence[Mapping[str, Any]]) -> list[LadderGap]:
    """List the jumps of a plan's ladder, each with the weight that would bridge it."""
    return [
        LadderGap(
            jump, jump_lines(words, jump, bridge_for(plan.routine, plan.client, jump), weights, plan.tuning.low_reps)
        )
        for jump in plan.ladder.jumps
    ]

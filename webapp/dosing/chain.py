"""Loads and reps of the rungs, from the bottom up, for one client and one routine."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.count import CLOSE, Count, session_work_j, side_goal
from webapp.dosing.settings import Body, Tuning

BOTTLE_KG = 0.5
"""Half a litre of water, without its bottle."""
BRIDGE_STEP_KG = 0.01
"""Bridging weights are searched and shown in whole steps of this size."""


class Link(NamedTuple):
    """One rung of the chain: kilograms, reps, and whether its weight is heavier than that of the rung below."""

    load_kg: float
    whole: Count
    heavier: bool


class Window(NamedTuple):
    """The reps with which a heavier weight may follow a rung: from `low` to `high`, and none where low > high."""

    low: int
    high: int


@dataclass(frozen=True)
class Jump:
    """A step between two weights that no allowed rep count bridges.

    Attributes:
        from_kg: The lighter weight.
        to_kg: The heavier one.
        window: The reps at which the heavier weight asks at least the work of the lighter weight's top rung, and at
            most a tenth more. Empty where no whole number of reps does.
        accepted: Whether the practitioner has accepted the jump in the routine.
    """

    from_kg: float
    to_kg: float
    window: Window
    accepted: bool


class Bridge(NamedTuple):
    """The weights that bridge a jump, each by itself, in whole steps of `BRIDGE_STEP_KG`.

    Attributes:
        low_kg, high_kg: The ends of the widest range in which every step bridges the jump.
        has_bottle: Whether half a litre of water, the weight that most homes have, bridges the jump.
    """

    low_kg: float
    high_kg: float
    has_bottle: bool


class Chain:
    """Builds the rungs of one client and one routine, the lowest first."""

    def __init__(self, body: Body, tuning: Tuning) -> None:
        self.body, self.tuning = body, tuning
        self.links: list[Link] = []
        self.jumps: list[Jump] = []

    def work(self, load_kg: float, count: Count) -> float:
        """Return a session's work at full range, joules."""
        return session_work_j(self.body, load_kg, count)

    def first(self, load_kg: float) -> None:
        """Add the lowest rung."""
        low = self.tuning.low_reps
        self.links.append(Link(load_kg, Count(low, side_goal(low)), False))

    def raise_reps(self) -> None:
        """Add rungs of the same weight up to the goal reps, each as high as the cap allows."""
        load_kg, count, _ = self.links[-1]
        while count.reps < self.tuning.goal_reps:
            most = self.work(load_kg, count) * (1 + self.tuning.rise) + CLOSE
            reps = min(self.tuning.goal_reps, floor(count.reps * (1 + self.tuning.rise) + CLOSE))
            sides = range(max(count.side_reps, side_goal(reps)), count.side_reps - 1, -1)
            fits = (Count(reps, side) for side in sides)
            count = next(each for each in fits if self.work(load_kg, each) <= most)
            self.links.append(Link(load_kg, count, False))

    def window(self, load_kg: float) -> Window:
        """Return the reps with which a heavier weight may follow the last rung, judged by the palm reps alone."""
        now_kg, now, _ = self.links[-1]
        same = now.reps * lever_kg_m(self.body, now_kg) / lever_kg_m(self.body, load_kg)
        most = floor(same * (1 + figures.HEAVIER_RISE.value) + CLOSE)
        return Window(ceil(same - CLOSE), min(most, self.tuning.goal_reps))

    def hand_over(self, load_kg: float) -> Count | None:
        """Return the reps with which a heavier weight follows the last rung, or None where no count is allowed."""
        now_kg, now, _ = self.links[-1]
        work, cap = self.work(now_kg, now), 1 + figures.HEAVIER_RISE.value
        window = self.window(load_kg)
        reps = window.high
        if reps < max(self.tuning.low_reps, window.low):
            return None
        for side in range(side_goal(reps), int(figures.SIDE_REPS_AT_LEAST.value) - 1, -1):
            if work - CLOSE <= self.work(load_kg, Count(reps, side)) <= work * cap + CLOSE:
                return Count(reps, side)
        return None

    def heavier(self, load_kg: float) -> bool:
        """Add the first rung of a heavier weight; return False where the ladder ends below it."""
        kept = list(self.links)
        jump = Jump(kept[-1].load_kg, load_kg, self.window(load_kg), load_kg in self.tuning.accepted_jumps_kg)
        while len(self.links) > 1 and self.links[-1].load_kg == kept[-1].load_kg:
            count = self.hand_over(load_kg)
            if count:
                self.links.append(Link(load_kg, count, True))
                return True
            # No count of the heavier weight follows this rung: try the rung below it as the lighter weight's last.
            self.links.pop()
        self.links = kept
        self.jumps.append(jump)
        if jump.accepted:
            low = self.tuning.low_reps
            self.links.append(Link(load_kg, Count(low, side_goal(low)), True))
        return jump.accepted

    def up_to(self, load_kg: float) -> "Chain":
        """Return a new chain with the rungs up to this weight, this weight included."""
        part = Chain(self.body, self.tuning)
        part.links = [link for link in self.links if link.load_kg <= load_kg]
        return part


def lay(body: Body, tuning: Tuning, weights_kg: list[float]) -> Chain:
    """Return the chain over some weights, the lightest first; it ends below the first jump that was not accepted."""
    chain = Chain(body, tuning)
    chain.first(weights_kg[0])
    chain.raise_reps()
    for load_kg in weights_kg[1:]:
        if not chain.heavier(load_kg):
            break
        chain.raise_reps()
    return chain


def _bridges(below: Chain, between_kg: float, to_kg: float) -> bool:
    """Say whether a weight in between bridges a jump, by the same condition that refused the jump."""
    trial = below.up_to(below.links[-1].load_kg)
    if not trial.heavier(between_kg):
        return False
    trial.raise_reps()
    return trial.heavier(to_kg)


def _runs(steps: list[int]) -> Iterator[tuple[int, int]]:
    """Yield the first and the last number of each run of consecutive numbers."""
    first = 0
    for index, step in enumerate(steps):
        if index + 1 == len(steps) or steps[index + 1] != step + 1:
            yield steps[first], step
            first = index + 1


def bridge_of(chain: Chain, jump: Jump) -> Bridge | None:
    """Find the weights that bridge a jump, each by itself.

    Args:
        chain: The client's whole chain.
        jump: One of the chain's jumps.

    Returns:
        The widest range of bridging weights, and whether a bottle is one; None where no single weight bridges the jump.
    """
    below = chain.up_to(jump.from_kg)
    first, last = floor(jump.from_kg / BRIDGE_STEP_KG) + 1, ceil(jump.to_kg / BRIDGE_STEP_KG)
    bridging = [step for step in range(first, last) if _bridges(below, step * BRIDGE_STEP_KG, jump.to_kg)]
    if not bridging:
        return None
    low, high = max(_runs(bridging), key=lambda run: run[1] - run[0])
    has_bottle = round(BOTTLE_KG / BRIDGE_STEP_KG) in bridging
    return Bridge(round(low * BRIDGE_STEP_KG, 2), round(high * BRIDGE_STEP_KG, 2), has_bottle)

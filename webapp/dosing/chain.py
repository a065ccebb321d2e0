"""Loads and reps from the bottom up, laid one on the other for one client and one routine."""

from dataclasses import dataclass, replace
from math import floor
from typing import NamedTuple

from webapp.dosing import figures
from webapp.dosing.body import lever_kg_m
from webapp.dosing.count import CLOSE, Count, session_work_j, side_goal
from webapp.dosing.settings import Body, Tuning


class Link(NamedTuple):
    """One rung in the making: kilograms, reps, and whether the weight is heavier than below."""

    load_kg: float
    whole: Count
    heavier: bool


@dataclass(frozen=True)
class Jump:
    """A step between two weights that no allowed rep count bridges.

    Attributes:
        from_kg: The lighter weight.
        to_kg: The heavier one.
        reps: The reps the heavier one would have to start at, under the least allowed.
        bridge_kg: The lightest weight from which the heavier one can be reached, and the heaviest
            that can be reached from the lighter one. One weight between the two bridges the jump;
            where the first is over the second, it takes more than one.
        accepted: True where the practitioner took the jump on in so many words.
    """

    from_kg: float
    to_kg: float
    reps: int
    bridge_kg: tuple[float, float]
    accepted: bool

    @property
    def is_bridged_by_one(self) -> bool:
        """Say whether a single weight in between is enough."""
        return self.bridge_kg[0] <= self.bridge_kg[1]


class Chain:
    """Lays rungs one on the other for one client and one routine."""

    def __init__(self, body: Body, tuning: Tuning) -> None:
        self.body, self.tuning = body, tuning
        self.links: list[Link] = []
        self.jumps: list[Jump] = []

    def work(self, load_kg: float, count: Count) -> float:
        """Give a session's work at full range, joules."""
        return session_work_j(self.body, load_kg, count)

    def first(self, load_kg: float) -> None:
        """Lay the bottom."""
        low = self.tuning.low_reps
        self.links.append(Link(load_kg, Count(low, side_goal(low)), False))

    def raise_reps(self) -> None:
        """Climb at the weight in hand to the goal, each time by the most that the cap allows."""
        load_kg, count, _ = self.links[-1]
        while count.reps < self.tuning.goal_reps:
            most = self.work(load_kg, count) * (1 + self.tuning.rise) + CLOSE
            reps = min(self.tuning.goal_reps, floor(count.reps * (1 + self.tuning.rise) + CLOSE))
            sides = range(max(count.side_reps, side_goal(reps)), count.side_reps - 1, -1)
            fits = (Count(reps, side) for side in sides)
            count = next(one for one in fits if self.work(load_kg, one) <= most)
            self.links.append(Link(load_kg, count, False))

    def hand_over(self, load_kg: float) -> Count | None:
        """Find the reps at which a heavier weight takes over, or None where none is allowed."""
        cap = 1 + figures.HEAVIER_RISE.value
        now_kg, now, _ = self.links[-1]
        ratio = lever_kg_m(self.body, now_kg) / lever_kg_m(self.body, load_kg)
        work = self.work(now_kg, now)
        reps = floor(now.reps * ratio * cap + CLOSE)
        if reps < self.tuning.low_reps or reps < now.reps * ratio - CLOSE:
            return None
        for side in range(side_goal(reps), int(figures.SIDE_REPS_AT_LEAST.value) - 1, -1):
            if work - CLOSE <= self.work(load_kg, Count(reps, side)) <= work * cap + CLOSE:
                return Count(reps, side)
        return None

    def heavier(self, load_kg: float) -> bool:
        """Lay the first rung of a heavier weight; False where the ladder ends below it."""
        kept = list(self.links)
        jump = self._jump(load_kg)
        while len(self.links) > 1 and self.links[-1][0] == kept[-1][0]:
            count = self.hand_over(load_kg)
            if count:
                self.links.append(Link(load_kg, count, True))
                return True
            # A lighter weight may stop a rung early where its top cannot be matched from above.
            self.links.pop()
        self.links = kept
        accepted = load_kg in self.tuning.accepted_jumps_kg
        self.jumps.append(replace(jump, accepted=accepted))
        if accepted:
            low = self.tuning.low_reps
            self.links.append(Link(load_kg, Count(low, side_goal(low)), True))
        return accepted

    def _jump(self, to_kg: float) -> Jump:
        from_kg, now, _ = self.links[-1]
        stretch = now.reps * (1 + figures.HEAVIER_RISE.value) / self.tuning.low_reps
        empty = lever_kg_m(self.body, 0.0)
        per_kg = lever_kg_m(self.body, 1.0) - empty
        here, there = lever_kg_m(self.body, from_kg), lever_kg_m(self.body, to_kg)
        bridge = ((there / stretch - empty) / per_kg, (here * stretch - empty) / per_kg)
        reps = floor(now.reps * here / there * (1 + figures.HEAVIER_RISE.value) + CLOSE)
        return Jump(from_kg, to_kg, reps, bridge, False)

"""The planned chain of doses from start to goal, from the weights a client has.

Steps are measured in the day's work at full range. At one weight a step is at most the cap
of the routine. A step to a heavier weight is at most a tenth.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.dosing.body import peak_moment_nm, share_of_maximum
from webapp.dosing.chain import Bridge, Chain, Jump, bridge_of, lay
from webapp.dosing.count import Count
from webapp.dosing.first_week import Stage, first_week
from webapp.dosing.settings import Body, Client, Routine, Tuning


@dataclass(frozen=True)
class Rung:
    """One step of the ladder.

    Attributes:
        number: 1 at the bottom.
        load_kg: The weight in the hand.
        count: The reps of the one daily session.
        stages: What a day of each stage of the first week asks (see `first_week`); empty where there is none.
        heavier: True where this rung brings in a heavier weight than the one below.
        work_j: The single session's work at full range, joules.
        rise: How much more work than the rung below, as a share (0.25 is a quarter more); None at the bottom.
        peak_nm: Moment about the wrist with the hand level.
        share: `peak_nm` as a share of the weakest direction's estimated maximum.
    """

    number: int
    load_kg: float
    count: Count
    stages: tuple[Stage, ...]
    heavier: bool
    work_j: float
    rise: float | None
    peak_nm: float
    share: float

    def stage(self, number: int) -> Stage:
        """Return what a day of one stage asks; stage 0, and any past the last, is the whole session once."""
        return self.stages[number - 1] if 0 < number <= len(self.stages) else Stage(1, self.count, self.work_j)


@dataclass(frozen=True)
class Ladder:
    """All rungs from the bottom up.

    Attributes:
        rungs: The bottom first.
        jumps: The jumps that no rep count bridges.
        too_heavy_kg: Weights at home that are never prescribed, because their share of the maximum is too high.
    """

    rungs: tuple[Rung, ...]
    jumps: tuple[Jump, ...]
    too_heavy_kg: tuple[float, ...]

    def rung(self, number: int) -> Rung:
        """Return rung `number`, 1 at the bottom; an IndexError where there is no such rung."""
        if not 1 <= number <= len(self.rungs):
            raise IndexError(number)
        return self.rungs[number - 1]

    @property
    def top(self) -> int:
        """The number of the highest rung."""
        return len(self.rungs)

    @property
    def has_first_week(self) -> bool:
        """Whether the first week begins with short sessions."""
        return bool(self.rungs[0].stages)


def _laid(chain: Chain, stages: Sequence[tuple[Stage, ...]]) -> Iterator[Rung]:
    before: float | None = None
    for number, ((load_kg, count, heavier), staged) in enumerate(zip(chain.links, stages, strict=True)):
        work = chain.work(load_kg, count)
        rise = None if before is None else work / before - 1
        peak = peak_moment_nm(chain.body, load_kg)
        share = share_of_maximum(chain.body, load_kg)
        yield Rung(number + 1, load_kg, count, staged, heavier, work, rise, peak, share)
        before = work


def _usable(body: Body, tuning: Tuning, weights: list[float]) -> list[float]:
    return [kg for kg in weights if share_of_maximum(body, kg) <= tuning.top_share] or weights[:1]


def build_ladder(routine: Routine, client: Client) -> Ladder:
    """Build the ladder of one client under one routine.

    Args:
        routine: Free of faults.
        client: Free of faults.

    Returns:
        At least one rung. A weight over `Tuning.top_share` of the estimated maximum is never used; the
        ladder ends below an unbridged jump that was not accepted.
    """
    body, tuning = client.body, routine.tuning
    weights = sorted(client.weights_kg)
    usable = _usable(body, tuning, weights)
    chain = lay(body, tuning, usable)
    sessions = tuning.first_week_sessions
    stages = first_week(chain, sessions) if sessions > 1 else None
    too_heavy = tuple(kg for kg in weights if kg not in usable)
    return Ladder(tuple(_laid(chain, stages or [()] * len(chain.links))), tuple(chain.jumps), too_heavy)


def bridge_for(routine: Routine, client: Client, jump: Jump) -> Bridge | None:
    """Find the weights that bridge a jump of this client's ladder, each by itself (see `chain.bridge_of`)."""
    tuning = routine.tuning
    chain = lay(client.body, tuning, _usable(client.body, tuning, sorted(client.weights_kg)))
    return bridge_of(chain, jump)

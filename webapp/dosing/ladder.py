"""The planned chain of doses from start to goal, from the weights a client has.

A step is judged by the whole day's work at full range, so the ladder rises by at most the
cap at one weight and by at most a tenth where a heavier weight comes in.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.dosing import figures
from webapp.dosing.body import peak_moment_nm, share_of_maximum
from webapp.dosing.chain import Chain, Jump
from webapp.dosing.count import Count
from webapp.dosing.first_week import first_week
from webapp.dosing.settings import Client, Routine


@dataclass(frozen=True)
class Rung:
    """One step of the ladder.

    Attributes:
        number: 1 at the bottom.
        load_kg: The weight in the hand.
        count: The reps of the one daily session.
        short: The reps of each of the first week's several short sessions.
        heavier: True where this rung brings in a heavier weight than the one below.
        work_j: The single session's work at full range, joules.
        rise: Its share over the rung below (0.25 is a quarter more); None at the bottom.
        peak_nm: Moment about the wrist with the hand level.
        share: `peak_nm` as a share of the weakest direction's estimated maximum.
    """

    number: int
    load_kg: float
    count: Count
    short: Count
    heavier: bool
    work_j: float
    rise: float | None
    peak_nm: float
    share: float


@dataclass(frozen=True)
class Ladder:
    """All rungs from the bottom up.

    Attributes:
        rungs: The bottom first.
        jumps: The unbridged jumps met on the way.
        too_heavy_kg: Weights at home that are over the share of the maximum never prescribed.
        first_week_sessions: Short sessions a day in the first week; 1 where no split holds.
    """

    rungs: tuple[Rung, ...]
    jumps: tuple[Jump, ...]
    too_heavy_kg: tuple[float, ...]
    first_week_sessions: int

    def rung(self, number: int) -> Rung:
        """Give rung `number`, 1 at the bottom; an IndexError for none such."""
        if not 1 <= number <= len(self.rungs):
            raise IndexError(number)
        return self.rungs[number - 1]

    @property
    def top(self) -> int:
        """The number of the highest rung."""
        return len(self.rungs)


def _laid(chain: Chain, shorts: list[Count]) -> Iterator[Rung]:
    before: float | None = None
    for place, ((load_kg, count, heavier), short) in enumerate(zip(chain.links, shorts, strict=True)):
        work = chain.work(load_kg, count)
        rise = None if before is None else work / before - 1
        peak = peak_moment_nm(chain.body, load_kg)
        share = share_of_maximum(chain.body, load_kg)
        yield Rung(place + 1, load_kg, count, short, heavier, work, rise, peak, share)
        before = work


def build_ladder(routine: Routine, client: Client) -> Ladder:
    """Build the ladder of one client under one routine.

    Args:
        routine: Free of faults.
        client: Free of faults.

    Returns:
        At least one rung. A weight over 40 % of the estimated maximum is never used; the
        ladder ends below an unbridged jump that was not accepted.
    """
    body, tuning = client.body, routine.tuning
    limit = figures.TOP_SHARE_OF_MAXIMUM.value
    weights = sorted(client.weights_kg)
    usable = [kg for kg in weights if share_of_maximum(body, kg) <= limit] or weights[:1]
    chain = Chain(body, tuning)
    chain.first(usable[0])
    chain.raise_reps()
    for load_kg in usable[1:]:
        if not chain.heavier(load_kg):
            break
        chain.raise_reps()
    whole = [count for _, count, _ in chain.links]
    sessions = tuning.first_week_sessions
    shorts = first_week(chain, sessions) if sessions > 1 else None
    too_heavy = tuple(kg for kg in weights if kg not in usable)
    rungs = tuple(_laid(chain, shorts or whole))
    return Ladder(rungs, tuple(chain.jumps), too_heavy, sessions if shorts else 1)

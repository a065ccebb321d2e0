"""The planned chain of doses from start to goal, from the weights a client has.

A step is judged by the whole day's work at full range, so the ladder rises by at most the
cap at one weight and by at most a tenth where a heavier weight comes in.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from webapp.dosing import figures
from webapp.dosing.body import arc_degrees, lever_kg_m, peak_moment_nm, share_of_maximum, work_of_rep_j
from webapp.dosing.settings import DIRECTION_OF, DIRECTIONS, SIDE_DIRECTIONS, Body, Client, Routine, Tuning

_CLOSE = 1e-9


@dataclass(frozen=True)
class Count:
    """Reps of one session: `reps` palm down and palm up, `side_reps` to either side."""

    reps: int
    side_reps: int


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
class Jump:
    """A step between two weights that no allowed rep count bridges.

    Attributes:
        from_kg: The lighter weight.
        to_kg: The heavier one.
        reps: The reps the heavier one would have to start at, under the least allowed.
        bridge_kg: The lightest and heaviest weight that one more step in between could be.
        accepted: True where the practitioner took the jump on in so many words.
    """

    from_kg: float
    to_kg: float
    reps: int
    bridge_kg: tuple[float, float]
    accepted: bool


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


def is_side(movement: str) -> bool:
    """Say whether a movement is one of the two side-to-side directions."""
    return DIRECTION_OF[movement] in SIDE_DIRECTIONS


def session_work_j(body: Body, load_kg: float, count: Count, range_fraction: float = 1.0) -> float:
    """Give the work of one session over all four directions, in joules."""
    return sum(
        (count.side_reps if direction in SIDE_DIRECTIONS else count.reps)
        * work_of_rep_j(body, load_kg, *arc_degrees(direction, range_fraction))
        for direction in DIRECTIONS
    )


def _side_goal(reps: int, least: int = int(figures.SIDE_REPS_AT_LEAST.value)) -> int:
    return max(least, round(reps * figures.SIDE_SHARE.value))


class _Builder:
    """Lays rungs one on the other for one client and one routine."""

    def __init__(self, body: Body, tuning: Tuning) -> None:
        self.body, self.tuning = body, tuning
        self.steps: list[tuple[float, Count, bool]] = []
        self.jumps: list[Jump] = []

    def work(self, load_kg: float, count: Count) -> float:
        return session_work_j(self.body, load_kg, count)

    def first(self, load_kg: float) -> None:
        low = self.tuning.low_reps
        self.steps.append((load_kg, Count(low, _side_goal(low)), False))

    def raise_reps(self) -> None:
        """Climb at the weight in hand to the goal, each time by the most that the cap allows."""
        load_kg, count, _ = self.steps[-1]
        while count.reps < self.tuning.goal_reps:
            most = self.work(load_kg, count) * (1 + self.tuning.rise) + _CLOSE
            reps = min(self.tuning.goal_reps, floor(count.reps * (1 + self.tuning.rise) + _CLOSE))
            sides = range(max(count.side_reps, _side_goal(reps)), count.side_reps - 1, -1)
            fits = (Count(reps, side) for side in sides)
            count = next(one for one in fits if self.work(load_kg, one) <= most)
            self.steps.append((load_kg, count, False))

    def hand_over(self, load_kg: float) -> Count | None:
        """Find the reps at which a heavier weight takes over, or None where none is allowed."""
        cap = 1 + figures.HEAVIER_RISE.value
        now_kg, now, _ = self.steps[-1]
        ratio = lever_kg_m(self.body, now_kg) / lever_kg_m(self.body, load_kg)
        work = self.work(now_kg, now)
        reps = floor(now.reps * ratio * cap + _CLOSE)
        if reps < self.tuning.low_reps or reps < now.reps * ratio - _CLOSE:
            return None
        for side in range(_side_goal(reps), int(figures.SIDE_REPS_AT_LEAST.value) - 1, -1):
            if work - _CLOSE <= self.work(load_kg, Count(reps, side)) <= work * cap + _CLOSE:
                return Count(reps, side)
        return None

    def heavier(self, load_kg: float) -> bool:
        """Lay the first rung of a heavier weight; False where the ladder ends below it."""
        kept = list(self.steps)
        jump = self._jump(load_kg)
        while len(self.steps) > 1 and self.steps[-1][0] == kept[-1][0]:
            count = self.hand_over(load_kg)
            if count:
                self.steps.append((load_kg, count, True))
                return True
            # A lighter weight may stop a rung early where its top cannot be matched from above.
            self.steps.pop()
        self.steps = kept
        accepted = load_kg in self.tuning.accepted_jumps_kg
        self.jumps.append(Jump(jump.from_kg, jump.to_kg, jump.reps, jump.bridge_kg, accepted))
        if accepted:
            low = self.tuning.low_reps
            self.steps.append((load_kg, Count(low, _side_goal(low)), True))
        return accepted

    def _jump(self, to_kg: float) -> Jump:
        from_kg, now, _ = self.steps[-1]
        stretch = now.reps * (1 + figures.HEAVIER_RISE.value) / self.tuning.low_reps
        empty = lever_kg_m(self.body, 0.0)
        per_kg = lever_kg_m(self.body, 1.0) - empty
        here, there = lever_kg_m(self.body, from_kg), lever_kg_m(self.body, to_kg)
        bridge = ((there / stretch - empty) / per_kg, (here * stretch - empty) / per_kg)
        reps = floor(now.reps * here / there * (1 + figures.HEAVIER_RISE.value) + _CLOSE)
        return Jump(from_kg, to_kg, reps, (min(bridge), max(bridge)), False)


@dataclass(frozen=True)
class _Day:
    """What a first-week day of some short sessions adds up to, at full range."""

    count: Count
    lift: float
    work_j: float


def _short_days(builder: _Builder, place: int, sessions: int) -> list[_Day]:
    """List the ways to split one rung's day: once to one and a half times the single session."""
    load_kg, whole, _ = builder.steps[place]
    lever, single = lever_kg_m(builder.body, load_kg), builder.work(load_kg, whole)
    most = figures.FIRST_WEEK_WORK.value
    days = []
    for reps in range(floor(whole.reps * most / sessions + _CLOSE), ceil(whole.reps / sessions) - 1, -1):
        goal = _side_goal(reps, least=1)
        for side in (goal, goal - 1, goal + 1, goal - 2):
            count = Count(reps, side)
            work = builder.work(load_kg, count) * sessions
            if side > 0 and single - _CLOSE <= work <= single * most + _CLOSE:
                days.append(_Day(count, lever * reps * sessions, work))
    return days


def _follows(day: _Day, below: _Day | None, cap: float) -> bool:
    if below is None:
        return True
    rises = day.lift >= below.lift - _CLOSE and day.work_j >= below.work_j - _CLOSE
    return rises and day.work_j <= below.work_j * (1 + cap) + _CLOSE


def _first_week(builder: _Builder, sessions: int) -> list[Count] | None:
    """Choose each rung's short session, so that first-week days rise as the ladder does.

    Neither a step down nor the end of the first week may then raise the work, and no climb
    raises it by more than the cap; a heavier weight is never climbed to in the first week.

    Returns:
        One count for each rung, or None where no choice holds for all.
    """
    dead: set[tuple[int, Count]] = set()

    def lay(place: int, below: _Day | None) -> list[Count] | None:
        if place == len(builder.steps):
            return []
        cap = float("inf") if builder.steps[place][2] else builder.tuning.rise
        for day in _short_days(builder, place, sessions):
            if (place, day.count) in dead or not _follows(day, below, cap):
                continue
            above = lay(place + 1, day)
            if above is not None:
                return [day.count, *above]
            dead.add((place, day.count))
        return None

    return lay(0, None)


def _laid(builder: _Builder, shorts: list[Count]) -> Iterator[Rung]:
    before: float | None = None
    for place, ((load_kg, count, heavier), short) in enumerate(zip(builder.steps, shorts, strict=True)):
        work = builder.work(load_kg, count)
        rise = None if before is None else work / before - 1
        peak = peak_moment_nm(builder.body, load_kg)
        share = share_of_maximum(builder.body, load_kg)
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
    builder = _Builder(body, tuning)
    builder.first(usable[0])
    builder.raise_reps()
    for load_kg in usable[1:]:
        if not builder.heavier(load_kg):
            break
        builder.raise_reps()
    whole = [count for _, count, _ in builder.steps]
    sessions = tuning.first_week_sessions
    shorts = _first_week(builder, sessions) if sessions > 1 else None
    too_heavy = tuple(kg for kg in weights if kg not in usable)
    rungs = tuple(_laid(builder, shorts or whole))
    return Ladder(rungs, tuple(builder.jumps), too_heavy, sessions if shorts else 1)

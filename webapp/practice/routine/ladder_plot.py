"""The ladder as a drawing: steps as high as their work, where each arm stands now and after, and what was before.

Lengths are the drawing's own, about a pixel each. Holds no sentence.
"""

from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from webapp.dosing.figures import WARN_SHARE_OF_MAXIMUM
from webapp.dosing.ladder import Ladder
from webapp.dosing.plan import Plan
from webapp.practice.routine.weeks_ahead import ArmPush

FLAG, BASE = 34, 46
NARROWEST_FIGURE = 22
SIZES = {"wide": (720, 330), "narrow": (340, 260)}


class DrawnRung(NamedTuple):
    """One rung: its left edge, its top, its reps, and whether its heaviest moment is one to be warned of."""

    x: float
    y: float
    width: float
    reps: int
    is_heavy: bool
    has_figure: bool


class WeightSpan(NamedTuple):
    """The rungs with one weight: from where to where, and the weight."""

    left: float
    right: float
    load_kg: float


class Flag(NamedTuple):
    """Where an arm stands: at which rung, and how high its words are."""

    x: float
    foot: float
    top: float
    kind: str
    arm: str
    rung: int
    is_turned: bool


class LadderPlot(NamedTuple):
    """A drawing of one size; `edge` and `was` are paths, `was` empty where nothing was pushed before."""

    name: str
    width: int
    height: int
    base: int
    edge: str
    was: str
    steps: Sequence[DrawnRung]
    stretches: Sequence[WeightSpan]
    flags: Sequence[Flag]


def ladder_plots(old: Plan | None, new: Plan, courses: Sequence[ArmPush]) -> list[LadderPlot]:
    """Draw a ladder, wide and narrow.

    Args:
        old: The version before, or None.
        new: The version whose ladder it is.
        courses: Each arm, now and after.
    """
    return [_plot(name, old.ladder if old else None, new.ladder, courses) for name in SIZES]


def _flags(courses: Sequence[ArmPush]) -> list[tuple[str, str, int]]:
    """List the flags as (kind, arm, rung), from the top of the drawing down."""
    found = []
    for course in courses:
        now = course.now.state.rung if course.now else None
        after = course.after.state.rung
        if now in (None, after):
            found.append(("begins" if now is None else "stays", course.arm, after))
        else:
            found += [("after", course.arm, after), ("now", course.arm, now or after)]
    return found


def _plot(name: str, old: Ladder | None, new: Ladder, courses: Sequence[ArmPush]) -> LadderPlot:
    width, height = SIZES[name]
    flags = _flags(courses)
    base, ceiling = height - BASE, FLAG * len(flags) + FLAG
    most = max(rung.work_j for ladder in (new, old) if ladder for rung in ladder.rungs)
    pace = width / max(ladder.top for ladder in (new, old) if ladder)
    tops = [base - rung.work_j / most * (base - ceiling) for rung in new.rungs]
    steps = [
        DrawnRung(
            round(pace * (rung.number - 1), 1),
            round(top, 1),
            round(pace, 1),
            rung.count.reps,
            rung.share > WARN_SHARE_OF_MAXIMUM.value,
            pace >= NARROWEST_FIGURE and base - top >= NARROWEST_FIGURE,
        )
        for rung, top in zip(new.rungs, tops, strict=True)
    ]
    was = [base - rung.work_j / most * (base - ceiling) for rung in old.rungs] if old and old != new else []
    return LadderPlot(
        name, width, height, base, _stairs(tops, pace, base), _stairs(was, pace), steps, _stretches(new, pace),
        [_flag(number, each, pace, steps, width) for number, each in enumerate(flags)],
    )  # fmt: skip


def _flag(number: int, flag: tuple[str, str, int], pace: float, steps: Sequence[DrawnRung], width: int) -> Flag:
    kind, arm, rung = flag
    x = pace * (min(rung, len(steps)) - 0.5)
    foot = steps[min(rung, len(steps)) - 1].y
    return Flag(round(x, 1), foot, FLAG * number + 4, kind, arm, rung, x > width / 2)


def _stairs(tops: Sequence[float], pace: float, base: int | None = None) -> str:
    """Return the path along the tops of some steps; closed along the ground where a base is given."""
    if not tops:
        return ""
    points = [f"V{top:.1f}H{pace * number:.1f}" for number, top in enumerate(tops, start=1)]
    if base is None:
        return f"M0 {tops[0]:.1f}" + "".join(points)
    return f"M0 {base}" + "".join(points) + f"V{base}Z"


def _stretches(ladder: Ladder, pace: float) -> list[WeightSpan]:
    found = []
    for load_kg, group in groupby(ladder.rungs, key=lambda rung: rung.load_kg):
        numbers = [rung.number for rung in group]
        found.append(WeightSpan(round(pace * (numbers[0] - 1) + 2, 1), round(pace * numbers[-1] - 2, 1), load_kg))
    return found

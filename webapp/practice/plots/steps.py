"""The tracks below the pain: the rung with its range, the weight, the work, each as steps from day to day."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.practice.plots.days import PlotDay
from webapp.practice.plots.shapes import DaySpan, PlotLabel, PlotPatch, across, box, near, patch, spans, spread

HEIGHT = 10
"""The height of a track of steps, in units of its own."""
ROOM = 0.96
"""How much of the height the tallest step fills."""
LOW = 1.0
"""The height of the bar of a day held, in units of the track."""
WORDS_APART = {"rung": 4.5, "weight": 14.0, "work": 14.0}
"""Labels stand at least so far apart, in per cent of the width; a rung's number is short."""


@dataclass(frozen=True)
class PlotStep:
    """Days that follow each other and ask the same: the first, the day after the last, how much, and its text's value."""

    first: int
    end: int
    height: float
    value: object


@dataclass(frozen=True)
class StepTrack:
    """Where everything of a track stands: across in days, down in `HEIGHT` units from the top.

    Attributes:
        name: rung, weight or work.
        filled: The path of what was asked.
        eased: The fields of the range that was given up.
        outline: The path around the steps.
        resting: The path of a stroke for each day of rest.
        held: The path of the bars of days held.
        labels: The values, each above the first day on which it changed.
    """

    name: str
    filled: str
    eased: tuple[PlotPatch, ...]
    outline: str
    resting: str
    held: str
    labels: tuple[PlotLabel, ...]


def rung_track(days: Sequence[PlotDay]) -> StepTrack:
    """Lay out the rungs of an arm's days: filled as far as the range that was asked, the rest given up."""
    most = max((day.rung for day in days), default=0) or 1
    steps = _steps(days, lambda day: (day.rung, day.share), lambda value: value[0] / most, lambda value: value[0])
    eased = [(step, share) for step, (_, share) in steps if share < 1]
    return StepTrack(
        "rung",
        "".join(box(step.first, step.end, HEIGHT - step.height * share, HEIGHT) for step, (_, share) in steps),
        tuple(_given_up(step, share, len(days)) for step, share in eased),
        _outline([step for step, _ in steps]),
        "".join(_stroke(span) for span in spans(days, lambda day: day.mode == "resting")),
        "".join(box(s.first, s.end, HEIGHT - LOW, HEIGHT) for s in spans(days, lambda day: day.mode == "held")),
        _labels("rung", [step for step, _ in steps], len(days)),
    )


def weight_track(days: Sequence[PlotDay]) -> StepTrack:
    """Lay out the weights of an arm's days; a bare hand lies on the ground line."""
    most = max((day.load_kg or 0 for day in days), default=0) or 1
    steps = _steps(days, lambda day: (day.load_kg or 0.0,), lambda value: value[0] / most, lambda value: value[0])
    return _plain("weight", [step for step, _ in steps], len(days))


def work_track(days: Sequence[PlotDay]) -> StepTrack:
    """Lay out the wrist work of an arm's days, in joules."""
    most = max((day.work_j for day in days), default=0) or 1
    steps = _steps(days, lambda day: (round(day.work_j, 1),), lambda value: value[0] / most, lambda value: value[0])
    return _plain("work", [step for step, _ in steps], len(days))


def _plain(name: str, steps: Sequence[PlotStep], days: int) -> StepTrack:
    filled = "".join(box(step.first, step.end, HEIGHT - step.height, HEIGHT) for step in steps)
    return StepTrack(name, filled, (), _outline(steps), "", "", _labels(name, steps, days))


def _given_up(step: PlotStep, share: float, days: int) -> PlotPatch:
    top, per_unit = HEIGHT - step.height, 100 / HEIGHT
    return patch(DaySpan(step.first, step.end, None), days, top * per_unit, (HEIGHT - step.height * share) * per_unit)


def _steps(
    days: Sequence[PlotDay],
    amount: Callable[[PlotDay], tuple[float, ...]],
    height: Callable[[tuple[float, ...]], float],
    value: Callable[[tuple[float, ...]], object],
) -> list[tuple[PlotStep, tuple[float, ...]]]:
    """Return the steps of the days that asked for something, each with what they asked."""
    found = []
    for span in spans(days, lambda day: amount(day) if day.mode == "training" else None):
        asking: tuple[float, ...] = span.value  # type: ignore[assignment]
        found.append((PlotStep(span.first, span.end, HEIGHT * ROOM * height(asking), value(asking)), asking))
    return found


def _outline(steps: Sequence[PlotStep]) -> str:
    """Return a path along the tops of the steps, down to the ground where days in between asked nothing."""
    path, end = "", None
    for step in steps:
        top = near(HEIGHT - step.height)
        path += f"V{top}H{step.end}" if step.first == end else _down(end) + f"M{step.first} {HEIGHT}V{top}H{step.end}"
        end = step.end
    return path + _down(end)


def _down(end: int | None) -> str:
    return "" if end is None else f"V{HEIGHT}"


def _stroke(span: DaySpan) -> str:
    days = range(span.first, span.end)
    return "".join(f"M{near(day + 0.2)} {near(HEIGHT - 0.4)}L{near(day + 0.8)} {near(HEIGHT - 2.4)}" for day in days)


def _labels(name: str, steps: Sequence[PlotStep], days: int) -> tuple[PlotLabel, ...]:
    """Return a label above each step that says something else than the step before it, as far as there is room."""
    labels, before = [], None
    for step in steps:
        if step.value != before:
            labels.append(PlotLabel(across(step.first, days), round(100 - 10 * step.height, 2), step.value))
        before = step.value
    return tuple(spread(labels, WORDS_APART[name]))

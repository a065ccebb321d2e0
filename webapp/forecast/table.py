"""A forecast as plain text for a terminal of 80 columns. Only the layout is here; the sentences are in words/."""

import textwrap
from collections.abc import Sequence
from typing import Any

from webapp.forecast.bands import SUBJECTS
from webapp.words import Words, number_text
from webapp.words import forecast as say
from webapp.words.forecast import decimal_text, share_text

WIDTH = 80
PLAN_WIDTH = 17
DIGITS = {"rung": 0, "work_j": 1, "morning": 1, "rest_share": 0}
COMPARED = ("flare_days", "weeks_to_settle", "capacity_gained")


def flowed(text: str) -> str:
    """Break a text into lines of the terminal's width."""
    return textwrap.fill(text, WIDTH, subsequent_indent="  ")


def head_lines(words: Words, answer: dict[str, Any], head: str, goal_said: str = say.GOAL) -> list[str]:
    """Return the first lines of every answer: that it is a simulation, the question, the model, the goal."""
    goal = words.say(goal_said, reps=answer["goal"]["reps"], load=number_text(words, answer["goal"]["load_lb"]))
    seeds = ", ".join(map(str, answer.get("seeds", [])))
    gaps = {name: answer[name] for name in ("weeks", "clients", "seed", "dice")} | {"seeds": seeds}
    lines = [words.say(say.SIMULATION), words.say(head, **gaps), words.say(say.MODEL), goal]
    if not answer["goal"]["within_ladder"]:
        lines.append(words.say(say.NOT_WITHIN))
    return [flowed(line) for line in lines]


def _cells(words: Words, subject: str, band: Sequence[float]) -> str:
    factor = 100 if subject == "rest_share" else 1
    return "".join(f"{decimal_text(words, factor * value, DIGITS[subject]):>6}" for value in band)


def _weeks_told(words: Words, value: float | None, weeks: int) -> str:
    return words.say(say.NEVER, weeks=weeks) if value is None else decimal_text(words, value)


def _range(words: Words, interval: Sequence[float | None], answer: dict[str, Any], *, percent: bool = False) -> str:
    def part_text(value: float | None) -> str:
        if value is None:
            return words.say(say.NEVER, weeks=answer["weeks"])
        return share_text(words, value) if percent else decimal_text(words, value)

    middle, low, high = (part_text(part) for part in interval)
    if interval[0] is None and interval[1] is None:
        return middle
    return words.say(say.RANGE, middle=middle, low=low, high=high)


def _kind_lines(words: Words, kind: dict[str, Any], answer: dict[str, Any]) -> list[str]:
    heads = "".join(f" {words.say(say.SUBJECTS[subject]):>18}" for subject in SUBJECTS)
    lines = ["", words.say(say.KINDS[kind["kind"]]), f"{words.say(say.WEEK):>4}{heads}"]
    lines += [
        f"{row['week']:>4}" + "".join(f" {_cells(words, subject, row[subject])}" for subject in SUBJECTS)
        for row in kind["weeks"]
    ]
    first, middle, last = (_weeks_told(words, value, answer["weeks"]) for value in kind["weeks_to_settle"])
    lines.append(flowed(words.say(say.GOAL_LINE, first=first, middle=middle, last=last)))
    gained = _range(words, kind["capacity_gained"], answer, percent=True)
    lines.append(flowed(words.say(say.FLARES_LINE, flares=_range(words, kind["flare_days"], answer), gained=gained)))
    return lines


def bands_text(words: Words, answer: dict[str, Any]) -> str:
    """Return a forecast (see `report.forecast`) as text."""
    lines = [*head_lines(words, answer, say.HEAD), flowed(words.say(say.BANDS))]
    for kind in answer["kinds"]:
        lines += _kind_lines(words, kind, answer)
    return "\n".join(lines)


def _row(cells: Sequence[str]) -> str:
    plan, *figures, there = cells
    return f"{plan:<{PLAN_WIDTH}}" + "".join(f"{cell:>19}" for cell in figures) + f"{there:>6}"


def _plan_row(words: Words, row: dict[str, Any], answer: dict[str, Any]) -> str:
    cells = [_range(words, row[name], answer, percent=name == "capacity_gained") for name in COMPARED]
    return _row([words.say(say.PLANS[row["plan"]]), *cells, share_text(words, row["settled_at_goal_share"])])


def _better_lines(words: Words, better: dict[str, list[str]]) -> list[str]:
    plans_by_figure = {
        name: words.listed([words.say(say.PLANS[plan]) for plan in plans]) for name, plans in better.items() if plans
    }
    return [flowed(words.say(say.BETTER[name], plans=plans)) for name, plans in plans_by_figure.items()]


def compared_text(words: Words, answer: dict[str, Any]) -> str:
    """Return a comparison (see `report.comparison`) as text."""
    lines = [*head_lines(words, answer, say.COMPARE_HEAD), flowed(words.say(say.HARDIER))]
    for kind, better in answer["better_than_ours"].items():
        lines += ["", words.say(say.KINDS[kind]), _row([words.say(name) for name in say.COLUMNS.values()])]
        lines += [_plan_row(words, row, answer) for row in answer["plans"] if row["kind"] == kind]
        lines += _better_lines(words, better)
    names = dict.fromkeys(row["plan"] for row in answer["plans"])
    legend = [flowed(f"{words.say(say.PLANS[name])}: {words.say(say.PLANS_TOLD[name])}") for name in names]
    return "\n".join([*lines, "", *legend])

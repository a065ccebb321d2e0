"""`halfturn forecast`: reads files and options, and prints a table or JSON, or writes a drawing."""

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TextIO, TypeVar

from webapp.dosing.faults import number_fault
from webapp.dosing.plan import Plan, make_plan
from webapp.dosing.settings import Bound
from webapp.forecast.progress import Bar
from webapp.forecast.question import Goal, Question
from webapp.library.client import load_client
from webapp.library.faults import FileFault, NotAcceptedError
from webapp.library.routine import load_routine
from webapp.words import Words, fault_text, words_here
from webapp.words import forecast as say

FAULTY = 2
NUMBERS = {
    "--clients": ("500", Bound(10, 5000, "virtual clients of each kind", "own-choice")),
    "--weeks": ("12", Bound(1, 52, "weeks", "own-choice")),
    "--seed": ("1", Bound(0, 2**32 - 1, "for a seed", "own-choice")),
    "--goal-lb": ("3", Bound(0, 11, "pounds", "own-choice", whole=False)),
    "--goal-reps": ("15", Bound(1, 50, "lifts", "own-choice")),
}
Read = TypeVar("Read")


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the parser; it sets `command` of the parsed arguments to `run`."""
    words = words_here()
    parser = subparsers.add_parser("forecast", help=words.say(say.COMMAND), description=words.say(say.MODEL))
    for option in ("--routine", "--client"):
        parser.add_argument(option, required=True, type=Path, metavar="FILE", help=words.say(say.OPTIONS[option]))
    for option, (usual, _) in NUMBERS.items():
        # Numbers are read as text here and checked later, so that all faults are printed together, in our own words.
        parser.add_argument(option, default=usual, metavar="N", help=words.say(say.OPTIONS[option]))
    question = parser.add_mutually_exclusive_group()
    for option in ("--compare", "--populations"):
        question.add_argument(option, action="store_true", help=words.say(say.OPTIONS[option]))
    shape = parser.add_mutually_exclusive_group()
    shape.add_argument("--json", action="store_true", help=words.say(say.OPTIONS["--json"]))
    shape.add_argument("--svg", type=Path, metavar="FILE", help=words.say(say.OPTIONS["--svg"]))
    parser.set_defaults(command=run)


def _number(text: str) -> object:
    for kind in (int, float):
        try:
            return kind(text)
        except ValueError:
            continue
    return text


def _numbers(args: argparse.Namespace, faults: list[FileFault]) -> dict[str, Any]:
    read: dict[str, Any] = {}
    for option, (_, bound) in NUMBERS.items():
        name = option.removeprefix("--").replace("-", "_")
        read[name] = _number(getattr(args, name))
        fault = number_fault(option, read[name], bound)
        if fault:
            faults.append(FileFault("", None, option, fault.value, fault.code, fault.rule))
    return read


def _gathered(load: Callable[[Path], Read], path: Path, faults: list[FileFault]) -> Read | None:
    try:
        return load(path)
    except NotAcceptedError as error:
        faults += error.faults
        return None


def _read(args: argparse.Namespace) -> tuple[Plan, Question]:
    """Read files and options; raise a NotAcceptedError with the faults of all of them."""
    faults: list[FileFault] = []
    routine = _gathered(load_routine, args.routine, faults)
    client = _gathered(load_client, args.client, faults)
    numbers = _numbers(args, faults)
    if faults or routine is None or client is None:
        raise NotAcceptedError(faults)
    goal = Goal(float(numbers["goal_lb"]), int(numbers["goal_reps"]))
    return make_plan(routine, client), Question(numbers["weeks"], numbers["clients"], numbers["seed"], goal)


def _tell(text: str, stream: TextIO) -> None:
    print(text, file=stream)


def _complain(*lines: str) -> int:
    _tell("\n".join(lines), sys.stderr)
    return FAULTY


def _answered(plan: Plan, question: Question, words: Words, args: argparse.Namespace) -> str:
    """Return the answer in the form that the options ask for."""
    from webapp.forecast import report  # noqa: PLC0415 - arrays are loaded for this command only
    from webapp.forecast.drawing import draw_bands  # noqa: PLC0415 - as above
    from webapp.forecast.table import bands_text, compared_text  # noqa: PLC0415 - as above
    from webapp.forecast.trial.table import trial_text  # noqa: PLC0415 - as above

    text: Callable[[Words, dict[str, Any]], str] = bands_text
    answer = report.FORECAST
    if args.compare:
        answer, text = report.COMPARISON, compared_text
    elif args.populations:
        answer, text = report.TRIAL, trial_text
    bar = Bar(answer.ticks(question), sys.stderr)
    result = answer.work_out(plan, question, words, bar.tick)
    bar.clear()
    if args.json:
        return json.dumps(result, indent=2, ensure_ascii=False)
    return draw_bands(words, result) if args.svg else text(words, result)


def _write(words: Words, text: str, path: Path) -> int:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        return _complain(words.say(say.CANNOT_WRITE, path=path, why=error.strerror))
    _tell(words.say(say.WRITTEN, path=path), sys.stdout)
    return 0


def run(args: argparse.Namespace) -> int:
    """Run the command; return 2 and print every fault where something in the arguments or files is wrong."""
    words = words_here()
    if args.svg and (args.compare or args.populations):
        return _complain(words.say(say.BANDS_ONLY))
    try:
        plan, question = _read(args)
    except NotAcceptedError as error:
        return _complain(*(fault_text(words, fault) for fault in error.faults))
    try:
        answer = _answered(plan, question, words, args)
    except ModuleNotFoundError as missing:
        return _complain(words.say(say.LACKS, package=missing.name))
    if args.svg:
        return _write(words, answer, args.svg)
    _tell(answer, sys.stdout)
    return 0

"""The commands for files that were typed in from paper: `dose`, `explain`, `ladder`.

Knows the terminal and the files, but no database and no web.
"""

import argparse
import inspect
import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import asdict, fields
from pathlib import Path
from typing import TypeVar

from webapp.dosing.settings import BOUNDS, Tempo, Tuning, WarmUp
from webapp.library import client, diary, routine
from webapp.library.faults import NotAcceptedError
from webapp.library.shelf import the_shelf
from webapp.sync.folding.account import account_object
from webapp.sync.folding.paper import FittedFile, Paper, PaperDay, day_object, day_of_paper, read_fitted, read_paper
from webapp.words import Words, fault_text, words_here
from webapp.words.days import day_text
from webapp.words.ladder import ladder_lines, ladder_notes
from webapp.words.paper import ArmPage, arm_lines, closed_day_lines, flowed
from webapp.words.terminal import DOSE_MORE, DOSE_OPTIONS, FILES, RANGE, RANGES

FAULTY = 2
FILE_MODULES = {"routine": routine, "client": client, "diary": diary}

Command = Callable[[argparse.Namespace], int]
Read = TypeVar("Read", Paper, FittedFile)


def _arm_page(day: PaperDay, arm: str) -> ArmPage:
    arm_day = day.arms[arm]
    return ArmPage(
        arm=arm,
        response=arm_day.response_yesterday,
        reasons=arm_day.reasons,
        state=arm_day.state,
        top=day.plan.ladder.top,
        dose=arm_day.dose,
        minutes=day.minutes(arm),
    )


def _page(words: Words, day: PaperDay) -> str:
    names = {id_: words.say(movement.name) for id_, movement in the_shelf().movements.items()}
    arms = ["\n".join(arm_lines(words, _arm_page(day, arm), names, day.weights)) for arm in day.arms]
    return "\n\n".join([day_text(words, day.on), *arms])


def _command(
    read: Callable[[argparse.Namespace], Read], tell: Callable[[argparse.Namespace, Words, Read], str]
) -> Command:
    """Make a command from a reader of files and a writer of a text; if the files have faults, it prints them all."""

    def command(args: argparse.Namespace) -> int:
        words = words_here()
        try:
            content = read(args)
        except NotAcceptedError as error:
            for fault in error.faults:
                print(fault_text(words, fault), file=sys.stderr)
            return FAULTY
        print(tell(args, words, content))
        return 0

    return command


def _dose(args: argparse.Namespace, words: Words, paper: Paper) -> str:
    day = day_of_paper(paper)
    return json.dumps(day_object(day), indent=2) if args.json else _page(words, day)


def _account(args: argparse.Namespace, words: Words, paper: Paper) -> str:
    if args.json:
        return json.dumps(account_object(paper), indent=2)
    arms = [closed_day_lines(words, arm, paper.closed(arm), paper.plan) for arm in paper.plan.client.arms]
    return "\n\n".join("\n".join(lines) for lines in arms)


def _ladder(args: argparse.Namespace, words: Words, fitted: FittedFile) -> str:
    ladder = fitted.plan.ladder
    if args.json:
        return json.dumps(asdict(ladder), indent=2)
    notes = ladder_notes(words, fitted.plan, fitted.weights)
    return "\n".join([*ladder_lines(words, ladder, fitted.weights), "", *(flowed(note, 0) for note in notes)])


def _three(args: argparse.Namespace) -> Paper:
    return read_paper(args.routine, args.client, args.diary, args.on)


def _two(args: argparse.Namespace) -> FittedFile:
    return read_fitted(args.routine, args.client)


COMMANDS: Mapping[str, Command] = {
    "dose": _command(_three, _dose),
    "explain": _command(_three, _account),
    "ladder": _command(_two, _ladder),
}


def _formats(words: Words) -> str:
    parts = [words.say(DOSE_MORE)]
    for name, module in FILE_MODULES.items():
        parts.append(f"{words.say(FILES[name])}\n{inspect.getdoc(module)}")
    return "\n\n".join([*parts, _ranges(words)])


def _ranges(words: Words) -> str:
    usual = {field.name: field.default for kind in (Tuning, Tempo, WarmUp) for field in fields(kind)}
    lines = [words.say(RANGES)]
    for name, bound in BOUNDS.items():
        low, high = f"{bound.low:g}", f"{bound.high:g}"
        range_text = words.say(RANGE, low=low, high=high, unit=bound.unit)
        lines.append(f"  {name:<22} {usual.get(name, ''):<5} {range_text}")
    return "\n".join(lines)


def offer(parser: argparse.ArgumentParser, name: str, words: Words) -> None:
    """Add the options of a command of `COMMANDS` to its parser."""
    files = ("--routine", "--client") if name == "ladder" else ("--routine", "--client", "--diary")
    for option in files:
        parser.add_argument(option, required=True, type=Path, metavar="FILE", help=words.say(DOSE_OPTIONS[option]))
    if name != "ladder":
        parser.add_argument("--on", required=True, metavar="YYYY-MM-DD", help=words.say(DOSE_OPTIONS["--on"]))
    parser.add_argument("--json", action="store_true", help=words.say(DOSE_OPTIONS["--json"]))
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = _formats(words)
    parser.set_defaults(command=COMMANDS[name])

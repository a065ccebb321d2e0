"""The command line: `halfturn serve`, `migrate`, `dose`, `explain`, `practitioner add`.

Knows the environment and the terminal, and hands each command to the room whose it is.
"""

import argparse
import inspect
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from pathlib import Path

from webapp import __version__
from webapp.config import SettingError, Settings, read_settings
from webapp.dosing.settings import BOUNDS, Tempo, Tuning, WarmUp
from webapp.library import client, diary, routine
from webapp.library.faults import NotAcceptedError
from webapp.library.shelf import the_shelf
from webapp.sync.account import account_object
from webapp.sync.paper import Paper, PaperDay, day_object, day_of_paper, read_paper
from webapp.words import Words, fault_text, words_for
from webapp.words.paper import ArmPage, account_lines, arm_lines, day_line
from webapp.words.terminal import ABOUT, COMMANDS, DOSE_MORE, DOSE_OPTIONS, FILES, MIGRATED, NO_FOLDER, RANGE, RANGES

FAULTY = 2
FILE_MODULES = {"routine": routine, "client": client, "diary": diary}

Command = Callable[[argparse.Namespace], int]


def _arm_page(day: PaperDay, arm: str) -> ArmPage:
    told = day.arms[arm]
    return ArmPage(
        arm=arm,
        response=told.response_yesterday,
        reasons=told.reasons,
        state=told.state,
        top=day.plan.ladder.top,
        dose=told.dose,
        minutes=day.minutes(arm),
    )


def _page(words: Words, day: PaperDay) -> str:
    names = {id_: words.say(movement.name) for id_, movement in the_shelf().movements.items()}
    arms = ["\n".join(arm_lines(words, _arm_page(day, arm), names, day.weights)) for arm in day.arms]
    return "\n\n".join([day_line(words, day.on), *arms])


def _on_paper(tell: Callable[[argparse.Namespace, Words, Paper], str]) -> Command:
    """Make a command of what is told of three files; faults of the files are all told instead."""

    def command(asked: argparse.Namespace) -> int:
        words = words_for()
        try:
            paper = read_paper(asked.routine, asked.client, asked.diary, asked.on)
        except NotAcceptedError as error:
            for fault in error.faults:
                print(fault_text(words, fault), file=sys.stderr)
            return FAULTY
        print(tell(asked, words, paper))
        return 0

    return command


def _dose(asked: argparse.Namespace, words: Words, paper: Paper) -> str:
    day = day_of_paper(paper)
    return json.dumps(day_object(day), indent=2) if asked.json else _page(words, day)


def _account(asked: argparse.Namespace, words: Words, paper: Paper) -> str:
    if asked.json:
        return json.dumps(account_object(paper), indent=2)
    arms = [account_lines(words, arm, paper.closed(arm), paper.plan) for arm in paper.plan.client.arms]
    return "\n\n".join("\n".join(lines) for lines in arms)


tell_dose = _on_paper(_dose)
tell_account = _on_paper(_account)


def _settings(asked: argparse.Namespace) -> Settings:
    settings = read_settings(asked.environ)
    if not settings.db.absolute().parent.is_dir():
        raise SettingError(words_for().say(NO_FOLDER, path=settings.db))
    return settings


def serve(asked: argparse.Namespace) -> int:
    """Serve until stopped."""
    from webapp.serve import serve as serve_until_stopped  # noqa: PLC0415 - the web rooms load for this command only

    serve_until_stopped(_settings(asked))
    return 0


def migrate(asked: argparse.Namespace) -> int:
    """Make the database or bring it up to date."""
    from webapp.records.migrations import prepare_records  # noqa: PLC0415 - as above

    path = _settings(asked).db
    prepare_records(path)
    print(words_for().say(MIGRATED, path=path))
    return 0


def add_practitioner(asked: argparse.Namespace) -> int:
    """Make a practitioner's account."""
    from webapp.practice import accounts  # noqa: PLC0415 - as above

    return accounts.run(asked, _settings(asked).db)


def _formats(words: Words) -> str:
    parts = [words.say(DOSE_MORE)]
    for name, module in FILE_MODULES.items():
        parts.append(f"{words.say(FILES[name])}\n{inspect.getdoc(module)}")
    return "\n\n".join([*parts, _ranges(words)])


def _ranges(words: Words) -> str:
    usual = {field.name: field.default for kind in (Tuning, Tempo, WarmUp) for field in fields(kind)}
    lines = [words.say(RANGES)]
    for name, bound in BOUNDS.items():
        told = words.say(RANGE, low=f"{bound.low:g}", high=f"{bound.high:g}", unit=bound.unit)
        lines.append(f"  {name:<22} {usual.get(name, ''):<5} {told}")
    return "\n".join(lines)


def _offer_files(parser: argparse.ArgumentParser, words: Words) -> None:
    for option in ("--routine", "--client", "--diary"):
        parser.add_argument(option, required=True, type=Path, metavar="FILE", help=words.say(DOSE_OPTIONS[option]))
    parser.add_argument("--on", required=True, metavar="YYYY-MM-DD", help=words.say(DOSE_OPTIONS["--on"]))
    parser.add_argument("--json", action="store_true", help=words.say(DOSE_OPTIONS["--json"]))
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = _formats(words)


def _offer_practitioner(parser: argparse.ArgumentParser, words: Words) -> None:
    from webapp.practice.accounts import offer  # noqa: PLC0415 - as above

    adding = parser.add_subparsers(required=True, metavar="add")
    add = adding.add_parser("add", help=words.say(COMMANDS["practitioner add"]))
    offer(add)
    add.set_defaults(command=add_practitioner)


def read_arguments(arguments: Sequence[str]) -> argparse.Namespace:
    """Read a command line; its `command` is what to call with the rest."""
    words = words_for()
    parser = argparse.ArgumentParser(prog="halfturn", description=words.say(ABOUT))
    parser.add_argument("--version", action="version", version=f"halfturn {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    offered: dict[str, Command] = {"serve": serve, "migrate": migrate, "dose": tell_dose, "explain": tell_account}
    added = {name: commands.add_parser(name, help=words.say(COMMANDS[name])) for name in (*offered, "practitioner")}
    for name, command in offered.items():
        added[name].set_defaults(command=command)
    _offer_files(added["dose"], words)
    _offer_files(added["explain"], words)
    _offer_practitioner(added["practitioner"], words)
    return parser.parse_args(arguments)


def main(arguments: Sequence[str] | None = None, environ: Mapping[str, str] = os.environ) -> int:
    """Run one command and give its exit code.

    Args:
        arguments: Without the program's name; those of the process if not given.
        environ: The settings; those of the process if not given.
    """
    asked = read_arguments(sys.argv[1:] if arguments is None else arguments)
    asked.environ = environ
    command: Command = asked.command
    try:
        return command(asked)
    except SettingError as error:
        print(error, file=sys.stderr)
        return FAULTY


if __name__ == "__main__":
    sys.exit(main())

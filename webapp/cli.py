"""The command line: `serve`, `practitioner`, and the commands of `upkeep`, `on_paper`, forecast, rulebook, looks and bench.

Knows the environment and the terminal, and passes each command to its room.
"""

import argparse
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from webapp import __version__, on_paper
from webapp.bench import command as bench
from webapp.config import SettingError, Settings, read_settings, served_locales
from webapp.forecast import command as forecast
from webapp.looks import command as looks
from webapp.packing import PackingError
from webapp.records.faults import RecordsError
from webapp.rulebook import command as rulebook
from webapp.serving import command as serving
from webapp.words import Words, lacking, speak_at_the_terminal, words_here
from webapp.words import upkeep as say
from webapp.words.serving import NO_LANGUAGE
from webapp.words.terminal import ABOUT, COMMANDS

FAULTY = 2
COPIES_KEPT = 14
UPKEEP = ("migrate", "backup", "restore", "check", "carry-out", "bring-in")

Command = Callable[[argparse.Namespace], int]


def _read(args: argparse.Namespace) -> Settings:
    settings = read_settings(args.environ)
    missing = lacking(settings.locales)
    if missing:
        raise SettingError(words_here().say(NO_LANGUAGE, tags=", ".join(missing)))
    return settings


def _settings(args: argparse.Namespace) -> Settings:
    from webapp.records.soundness import check_folder  # noqa: PLC0415 - as below

    settings = _read(args)
    check_folder(settings.db)
    return settings


def serve(args: argparse.Namespace) -> int:
    """Serve until a signal ends the process, or print a recipe."""
    return serving.run(args, lambda: _read(args), lambda: _settings(args))


def upkeep(args: argparse.Namespace) -> int:
    """Run a command of `webapp.upkeep`; `args.upkeep` is its name."""
    from webapp import upkeep as commands  # noqa: PLC0415 - the web rooms load for these commands only

    command: Command = getattr(commands, args.upkeep.replace("-", "_"))
    return command(args)


def add_practitioner(args: argparse.Namespace) -> int:
    """Make an account for a practitioner."""
    from webapp.practice.door import accounts  # noqa: PLC0415 - as above

    return accounts.run(args, _settings(args).db)


def set_role(args: argparse.Namespace) -> int:
    """Make a practitioner an owner or a member."""
    from webapp.practice.door import by_server  # noqa: PLC0415 - as above

    return by_server.set_role(args, _settings(args).db)


def set_password(args: argparse.Namespace) -> int:
    """Set another password for a practitioner."""
    from webapp.practice.door import by_server  # noqa: PLC0415 - as above

    return by_server.set_password(args, _settings(args).db)


def _offer_practitioner(parser: argparse.ArgumentParser, words: Words) -> None:
    from webapp.practice.door import accounts, by_server  # noqa: PLC0415 - as above

    acts = parser.add_subparsers(required=True, metavar="ACT")
    for name, offer, command in (
        ("add", accounts.offer, add_practitioner),
        ("role", by_server.offer_role, set_role),
        ("password", by_server.offer_password, set_password),
    ):
        act = acts.add_parser(name, help=words.say(COMMANDS[f"practitioner {name}"]))
        offer(act)
        act.set_defaults(command=command)


def _offer_upkeep(added: Mapping[str, argparse.ArgumentParser], words: Words) -> None:
    backup, restore = added["backup"], added["restore"]
    backup.add_argument("--to", type=Path, metavar="FOLDER", help=words.say(say.OPTIONS["--to"]))
    backup.add_argument("--keep", type=int, default=COPIES_KEPT, metavar="N", help=words.say(say.OPTIONS["--keep"]))
    restore.add_argument("file", type=Path, metavar="FILE", help=words.say(say.OPTIONS["FILE"]))
    added["carry-out"].add_argument("file", type=Path, metavar="FILE", help=words.say(say.OPTIONS["OUT"]))
    added["bring-in"].add_argument("file", type=Path, metavar="FILE", help=words.say(say.OPTIONS["IN"]))
    added["bring-in"].add_argument(
        "--for", dest="email", required=True, metavar="EMAIL", help=words.say(say.OPTIONS["--for"])
    )
    restore.add_argument("--confirm-phones", action="store_true", help=words.say(say.OPTIONS["--confirm-phones"]))


def read_arguments(arguments: Sequence[str]) -> argparse.Namespace:
    """Parse a command line; the result's `command` is the function that runs it."""
    words = words_here()
    parser = argparse.ArgumentParser(prog="halfturn", description=words.say(ABOUT))
    parser.add_argument("--version", action="version", version=f"halfturn {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    names = ("serve", *UPKEEP, *on_paper.COMMANDS, "practitioner")
    helps = {**COMMANDS, **say.COMMANDS}
    added = {name: commands.add_parser(name, help=words.say(helps[name])) for name in names}
    added["serve"].set_defaults(command=serve)
    for name in UPKEEP:
        added[name].set_defaults(command=upkeep, upkeep=name)
    _offer_upkeep(added, words)
    serving.offer(added["serve"], words)
    for name in on_paper.COMMANDS:
        on_paper.offer(added[name], name, words)
    _offer_practitioner(added["practitioner"], words)
    for room in (forecast, rulebook, looks, bench):
        room.add_parser(commands)
    return parser.parse_args(arguments)


def main(arguments: Sequence[str] | None = None, environ: Mapping[str, str] = os.environ) -> int:
    """Run one command and return its exit code.

    Args:
        arguments: The arguments without the program's name; by default those of the process.
        environ: The environment with the settings; by default that of the process.
    """
    speak_at_the_terminal(environ, served_locales(environ))
    args = read_arguments(sys.argv[1:] if arguments is None else arguments)
    args.environ = environ
    command: Command = args.command
    try:
        return command(args)
    except (SettingError, PackingError) as error:
        print(error, file=sys.stderr)
    except RecordsError as error:
        print(say.fault_of_records(words_here(), error.code, error.gaps), file=sys.stderr)
    return FAULTY


if __name__ == "__main__":
    sys.exit(main())

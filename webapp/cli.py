"""The command line: `halfturn serve`, `migrate`, `restored`, `practitioner add`, and those of `on_paper`, forecast, rulebook and bench.

Knows the environment and the terminal, and hands each command to the room whose it is.
"""

import argparse
import os
import sys
from collections.abc import Callable, Mapping, Sequence

from webapp import __version__, on_paper
from webapp.bench import command as bench
from webapp.config import SettingError, Settings, read_settings
from webapp.forecast import command as forecast
from webapp.rulebook import command as rulebook
from webapp.serving import command as serving
from webapp.words import Words, words_for
from webapp.words.terminal import ABOUT, COMMANDS, MIGRATED, NO_FOLDER, RENEWED

FAULTY = 2

Command = Callable[[argparse.Namespace], int]


def _settings(asked: argparse.Namespace) -> Settings:
    settings = read_settings(asked.environ)
    if not settings.db.absolute().parent.is_dir():
        raise SettingError(words_for().say(NO_FOLDER, path=settings.db))
    return settings


def serve(asked: argparse.Namespace) -> int:
    """Serve until stopped, or print a recipe."""
    return serving.run(asked, lambda: read_settings(asked.environ), lambda: _settings(asked))


def migrate(asked: argparse.Namespace) -> int:
    """Make the database or bring it up to date."""
    from webapp.records.migrations import prepare_records  # noqa: PLC0415 - the web rooms load for these commands only

    path = _settings(asked).db
    prepare_records(path)
    print(words_for().say(MIGRATED, path=path))
    return 0


def restored(asked: argparse.Namespace) -> int:
    """Say that the database came from a backup, so that phones send again what it has lost."""
    from webapp.records import epoch  # noqa: PLC0415 - as above
    from webapp.records.database import open_records  # noqa: PLC0415 - as above
    from webapp.records.migrations import prepare_records  # noqa: PLC0415 - as above

    path = _settings(asked).db
    prepare_records(path)
    epoch.renew(open_records(path))
    print(words_for().say(RENEWED))
    return 0


def add_practitioner(asked: argparse.Namespace) -> int:
    """Make a practitioner's account."""
    from webapp.practice import accounts  # noqa: PLC0415 - as above

    return accounts.run(asked, _settings(asked).db)


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
    offered: dict[str, Command] = {"serve": serve, "migrate": migrate, "restored": restored}
    names = (*offered, *on_paper.COMMANDS, "practitioner")
    added = {name: commands.add_parser(name, help=words.say(COMMANDS[name])) for name in names}
    for name, command in offered.items():
        added[name].set_defaults(command=command)
    serving.offer(added["serve"], words)
    for name in on_paper.COMMANDS:
        on_paper.offer(added[name], name, words)
    _offer_practitioner(added["practitioner"], words)
    for room in (forecast, rulebook, bench):
        room.add_parser(commands)
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

"""`halfturn looks`: writes the page with every token and part into a folder."""

import argparse
import sys
from pathlib import Path
from typing import TextIO

from webapp.packing import sources_dir
from webapp.words import looks as say
from webapp.words import words_for

FAULTY = 2


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the parser; it sets `command` of the parsed arguments to `run`."""
    words = words_for()
    parser = subparsers.add_parser("looks", help=words.say(say.COMMAND), description=words.say(say.COMMAND))
    parser.add_argument("folder", type=Path, metavar="FOLDER", help=words.say(say.FOLDER))
    parser.set_defaults(command=run)


def _tell(text: str, stream: TextIO) -> None:
    print(text, file=stream)


def _complain(text: str) -> int:
    _tell(text, sys.stderr)
    return FAULTY


def run(args: argparse.Namespace) -> int:
    """Write the page; return 2 where the folder holds other files or cannot be written."""
    from webapp.looks.page import is_foreign, write_looks  # noqa: PLC0415 - the templates load for this command only

    words, folder = words_for(), args.folder
    try:
        if is_foreign(folder):
            return _complain(words.say(say.FOREIGN, path=folder))
        page = write_looks(sources_dir(), folder)
    except OSError as error:
        return _complain(words.say(say.CANNOT_WRITE, path=folder, why=error.strerror))
    _tell(words.say(say.WRITTEN, path=page), sys.stdout)
    return 0

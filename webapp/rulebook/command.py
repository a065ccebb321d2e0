"""`halfturn rulebook`: writes the page to a file or to the terminal."""

import argparse
import sys
from pathlib import Path
from typing import TextIO

from webapp.dosing.faults import number_fault
from webapp.dosing.settings import Bound
from webapp.library.faults import FileFault
from webapp.rulebook.populations import CLIENTS
from webapp.words import fault_text, words_here
from webapp.words import rulebook as say

FAULTY = 2
BOUND = Bound(10, 5000, "virtual clients of each kind", "own-choice")


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the command to the parser; it sets `command` of the parsed arguments to `run`."""
    words = words_here()
    parser = subparsers.add_parser("rulebook", help=words.say(say.COMMAND), description=words.say(say.COMMAND))
    parser.add_argument("--output", type=Path, metavar="FILE", help=words.say(say.OUTPUT))
    # Read as text here and checked later, so that a fault is printed in our own words.
    parser.add_argument("--clients", default=str(CLIENTS), metavar="N", help=words.say(say.CLIENTS))
    parser.set_defaults(command=run)


def _tell(text: str, stream: TextIO) -> None:
    print(text, file=stream)


def _complain(text: str) -> int:
    _tell(text, sys.stderr)
    return FAULTY


def _fault_of(clients: str) -> FileFault | None:
    """Return the fault of the number of clients that was typed, or None."""
    fault = number_fault("--clients", int(clients) if clients.isdecimal() else clients, BOUND)
    return FileFault("", None, "--clients", fault.value, fault.code, fault.rule) if fault else None


def _page(clients: int) -> str:
    from webapp.rulebook.book import gather, work_out  # noqa: PLC0415 - the tables are gathered for this command only
    from webapp.rulebook.page import page_of  # noqa: PLC0415 - as above

    words = words_here()
    return page_of(gather(work_out(clients), words), words.locale)


def run(args: argparse.Namespace) -> int:
    """Write the page; return 2 where an option is wrong or the file cannot be written."""
    words, fault = words_here(), _fault_of(args.clients)
    if fault:
        return _complain(fault_text(words, fault))
    if args.output is None:
        _tell(_page(int(args.clients)), sys.stdout)
        return 0
    try:
        with args.output.open("w", encoding="utf-8") as file:
            file.write(_page(int(args.clients)))
    except OSError as error:
        return _complain(words.say(say.CANNOT_WRITE, path=args.output, why=error.strerror))
    _tell(words.say(say.WRITTEN, path=args.output), sys.stdout)
    return 0

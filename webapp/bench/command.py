"""`halfturn bench core`: measures, and prints JSON."""

import argparse
import json
import sys

from webapp.words import bench as say
from webapp.words import words_for


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Offer the command; a parsed line's `command` is then `run`."""
    words = words_for()
    parser = subparsers.add_parser("bench", help=words.say(say.COMMAND), description=words.say(say.NOISE))
    parts = parser.add_subparsers(required=True, metavar="core")
    core = parts.add_parser("core", help=words.say(say.CORE), description=words.say(say.CORE))
    core.set_defaults(command=run)


def run(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes its line
    """Measure and print."""
    from webapp.bench.core import bench_core  # noqa: PLC0415 - arrays are loaded for this command only

    sys.stdout.write(json.dumps(bench_core(words_for()), indent=2) + "\n")
    return 0

"""`halfturn bench core`, `server`, `crowd`, `session`, `start`, and `halfturn trial kills`: measure, or try, and print JSON."""

import argparse
import json
import os
import shutil
import sys
from typing import Any

from webapp.words import bench as say
from webapp.words import words_here

CHROMIUMS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
LACKING = 2


def add_parser(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the commands to the parser; each sets `command` of the parsed arguments to a function of this module."""
    words = words_here()
    parser = subparsers.add_parser("bench", help=words.say(say.COMMAND), description=words.say(say.NOISE))
    parts = parser.add_subparsers(required=True, metavar="core|server|crowd|session|start")
    core = parts.add_parser("core", help=words.say(say.CORE), description=words.say(say.CORE))
    core.set_defaults(command=run)
    server = parts.add_parser("server", help=words.say(say.SERVER), description=words.say(say.SERVER))
    server.add_argument("--clients", type=int, default=300, help=words.say(say.SERVER_CLIENTS))
    server.add_argument("--days", type=int, default=365, help=words.say(say.SERVER_DAYS))
    server.set_defaults(command=run_server)
    crowd = parts.add_parser("crowd", help=words.say(say.CROWD), description=words.say(say.CROWD))
    crowd.set_defaults(command=run_crowd)
    session = parts.add_parser("session", help=words.say(say.SESSION), description=words.say(say.SESSION))
    session.add_argument("--seconds", type=int, default=600, help=words.say(say.SESSION_SECONDS))
    session.add_argument("--slowed", type=int, default=6, help=words.say(say.SESSION_SLOWED))
    session.set_defaults(command=run_session)
    start = parts.add_parser("start", help=words.say(say.START), description=words.say(say.START))
    start.add_argument("--rounds", type=int, default=5, help=words.say(say.START_ROUNDS))
    start.add_argument("--slowed", type=int, default=6, help=words.say(say.SESSION_SLOWED))
    start.set_defaults(command=run_start)
    _add_trial(subparsers)


def _add_trial(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    words = words_here()
    trial = subparsers.add_parser("trial", help=words.say(say.TRIAL), description=words.say(say.TRIAL))
    kills = trial.add_subparsers(required=True, metavar="kills").add_parser("kills", help=words.say(say.KILLS))
    kills.add_argument("--rounds", type=int, default=100, help=words.say(say.KILLS_ROUNDS))
    kills.add_argument("--seed", type=int, default=1, help=words.say(say.KILLS_SEED))
    kills.add_argument("--old-sqlite", action="store_true", help=words.say(say.KILLS_OLD))
    kills.set_defaults(command=run_kills)


def run_kills(args: argparse.Namespace) -> int:
    """Run the trial of kills and print its counts; return 1 where anything was lost, doubled or revived."""
    from webapp.bench.kills import MUST_BE_NONE, trial_kills  # noqa: PLC0415 - the records load for this command only

    counts = trial_kills(args.rounds, args.seed, is_old_sqlite=args.old_sqlite)
    return _print(counts) or int(any(counts[name] for name in MUST_BE_NONE))


def run(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes its line
    """Measure the core and print."""
    from webapp.bench.core import bench_core  # noqa: PLC0415 - arrays are loaded for this command only

    return _print(bench_core(words_here()))


def run_server(args: argparse.Namespace) -> int:
    """Measure the server and print."""
    from webapp.bench.server import bench_server  # noqa: PLC0415 - the web rooms load for this command only

    return _print(bench_server(words_here(), args.clients, args.days))


def run_crowd(args: argparse.Namespace) -> int:  # noqa: ARG001 - every command takes its line
    """Measure a server among strangers and print."""
    from webapp.bench.crowd import bench_crowd  # noqa: PLC0415 - a server is started for this command only

    return _print(bench_crowd(words_here()))


def run_session(args: argparse.Namespace) -> int:
    """Measure a session and print; return 2 where this machine has no browser."""
    try:
        from webapp.bench.session import bench_session  # noqa: PLC0415 - a browser is driven for this command only
    except ModuleNotFoundError as lacking:
        return _lacks(str(lacking.name))
    found = _chromium()
    return _print(bench_session(words_here(), found, args.seconds, args.slowed)) if found else _lacks("Chromium")


def run_start(args: argparse.Namespace) -> int:
    """Measure cold starts and print; 2 where this machine has no browser to measure in."""
    try:
        from webapp.bench.start import bench_start  # noqa: PLC0415 - a browser is driven for this command only
    except ModuleNotFoundError as lacking:
        return _lacks(str(lacking.name))
    found = _chromium()
    if found is None:
        return _lacks("Chromium")
    return _print(bench_start(words_here(), found, rounds=args.rounds, times=args.slowed))


def _chromium() -> str | None:
    return os.environ.get("CHROMIUM_PATH") or next(filter(None, map(shutil.which, CHROMIUMS)), None)


def _lacks(missing: str) -> int:
    sys.stderr.write(words_here().say(say.NO_BROWSER, what=missing) + "\n")
    return LACKING


def _print(result: dict[str, Any]) -> int:
    sys.stdout.write(json.dumps(result, indent=2) + "\n")
    return 0

"""Starts Halfturn with an invented practice in it, on a machine that has only python3.

    python3 demo/start.py            makes .venv, installs, fills the practice, serves it, prints both links
    python3 demo/start.py --fresh    the same, but first deletes the data of earlier starts

Ctrl-C stops it. The data stays in demo/.data for the next start.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / ".tools"))

from environment import SetupError, prepare

DATA = HERE / ".data"
DATABASE = DATA / "halfturn.db"
HOST = "127.0.0.1"
PORT = 8765
PORTS_TRIED = 50
START_SECONDS = 60
FILL_SECONDS = 300
STOP_SECONDS = 10


def main() -> int:
    """Prepare, fill, serve until Ctrl-C; return the exit code."""
    args = _arguments()
    # If another program ends this process, it must stop the server too, as after Ctrl-C.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        python = prepare(["forecast", "pack"])
        if args.fresh and DATA.exists():
            shutil.rmtree(DATA)
        port = _free_port(args.port)
        environ = _environ(port)
        practice = _fill(python, environ)
        return _serve(python, environ, practice)
    except SetupError as lacking:
        print(f"\n{lacking}")
        return 2
    except KeyboardInterrupt:
        return 130


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Start Halfturn with an invented practice in it.")
    parser.add_argument("--fresh", action="store_true", help="throw away what earlier starts kept")
    parser.add_argument("--port", type=int, default=PORT, help=f"port to serve on (default {PORT})")
    return parser.parse_args()


def _free_port(first: int) -> int:
    for port in range(first, first + PORTS_TRIED):
        with socket.socket() as probe, contextlib.suppress(OSError):
            # The server binds with the same option: a port with only a closed connection on it counts as free.
            if os.name != "nt":
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((HOST, port))
            if port != first:
                print(f"Port {first} is taken by another program, so this start uses {port}.")
            return port
    raise SetupError(f"Ports {first} to {first + PORTS_TRIED - 1} are all taken: give a free one with --port.")


def _environ(port: int) -> dict[str, str]:
    own = {"HALFTURN_DB": str(DATABASE), "HALFTURN_ORIGIN": f"http://{HOST}:{port}"}
    return {**os.environ, "HALFTURN_LOCALES": "en,es", **own}


def _fill(python: Path, environ: dict[str, str]) -> dict[str, str]:
    DATA.mkdir(exist_ok=True)
    command = [str(python), str(HERE / "practice.py")]
    filled = subprocess.run(command, check=False, env=environ, stdout=subprocess.PIPE, text=True, timeout=FILL_SECONDS)
    if filled.returncode:
        raise SetupError("The demo practice could not be filled; the reason is above. Try again with --fresh.")
    return json.loads(filled.stdout)


def _serve(python: Path, environ: dict[str, str], practice: dict[str, str]) -> int:
    server = subprocess.Popen([str(python), "-m", "webapp.cli", "serve"], env=environ, stdin=subprocess.DEVNULL)
    try:
        _wait_until_up(server, environ["HALFTURN_ORIGIN"])
        print(_welcome(environ["HALFTURN_ORIGIN"], practice), flush=True)
        return server.wait()
    except KeyboardInterrupt:
        print("\nStopped. What was entered is kept for the next start.", flush=True)
        return 0
    finally:
        _stop(server)


def _wait_until_up(server: subprocess.Popen[bytes], origin: str) -> None:
    until = time.monotonic() + START_SECONDS
    while time.monotonic() < until:
        if server.poll() is not None:
            raise SetupError(f"The server stopped as it started (exit {server.returncode}); its own words are above.")
        with contextlib.suppress(urllib.error.URLError, OSError), urllib.request.urlopen(origin, timeout=2):
            return
        time.sleep(0.1)
    raise SetupError(f"The server did not answer at {origin} within {START_SECONDS} s.")


def _stop(server: subprocess.Popen[bytes]) -> None:
    """Stop the server. After Ctrl-C in a terminal it is stopping already; a second signal does no harm."""
    if server.poll() is None:
        server.terminate()
    try:
        server.wait(timeout=STOP_SECONDS)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


def _welcome(origin: str, practice: dict[str, str]) -> str:
    return f"""
Halfturn is running, with an invented practice in it.

  The client's link (open it in a window as narrow as a phone; it works once, a new start prints another):
    {origin}/join#{practice["token"]}

  The practitioner's link:
    {origin}/practice/
    email     {practice["email"]}
    password  {practice["password"]}
    colleague {practice["colleague"]}, with the same password

Ctrl-C stops it. Nothing here is advice for a real arm.
"""


if __name__ == "__main__":
    sys.exit(main())

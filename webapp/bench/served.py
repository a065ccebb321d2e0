"""A server in a process of its own, with one invented client, for as long as a measurement takes."""

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from webapp.bench.example import screened, stored, trained
from webapp.config import Settings, read_settings
from webapp.library.routine import starter
from webapp.records import cases, events, invitations, practitioners, routines
from webapp.records.database import open_records, write
from webapp.records.making import make_records

HOST = "127.0.0.1"
START_SECONDS = 60
AREA = "outer_elbow"
SETTINGS = {
    "mass_kg": 70.0, "height_m": 1.75, "sex": None, "arms": ["right", "left"], "usual": 2,
    "weights_kg": [0.0, 0.5, 1.0], "weights": [{"value": each, "unit": "kg"} for each in (0, 0.5, 1)],
}  # fmt: skip


class NotServingError(RuntimeError):
    """The server did not answer in time; the message includes its output."""


@dataclass(frozen=True)
class Running:
    """A server process: its address, the port that it listens on, the process, and the file it prints to."""

    origin: str
    port: int
    process: "subprocess.Popen[bytes]"
    log: Path


@contextmanager
def serving(path: Path, **settings: str) -> Iterator[Running]:
    """Serve a database in a process of its own; its log lies beside it.

    Args:
        path: The SQLite file.
        settings: Further environment variables, beside the database and the origin.

    Raises:
        NotServingError: Nothing answered within a minute.
    """
    log, here = path.with_suffix(".log"), f"http://{HOST}:{free_port()}"
    environ = {**os.environ, "HALFTURN_DB": str(path), "HALFTURN_ORIGIN": here, **settings}
    known = read_settings(environ)
    command = [sys.executable, "-m", "webapp.cli", "serve"]
    with log.open("wb") as out:
        process = subprocess.Popen(command, env=environ, stdin=subprocess.DEVNULL, stdout=out, stderr=out)  # noqa: S603 - our own program
    try:
        wait_for(process, known, log)
        yield Running(known.origin, known.listens_on[1], process, log)
    finally:
        process.terminate()
        process.wait()


@contextmanager
def served_client(days: int | None = None) -> Iterator[tuple[str, str]]:
    """Serve one client; yield the origin and the token of an unused invitation.

    Args:
        days: How many days the client has trained with the right arm, up to yesterday. None: both arms, and nothing yet.

    Raises:
        NotServingError: Nothing answered within a minute.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.db"
        token = _enrolled(path, days)
        with serving(path) as running:
            yield running.origin, token


def _enrolled(path: Path, days: int | None) -> str:
    make_records(path)
    db, now = open_records(path), datetime.now(UTC)
    try:
        # Nobody signs in here, so the practitioner needs no valid password.
        owner = practitioners.add(db, "Bench", "bench@halfturn.example", "-", now)
        settings = SETTINGS if days is None else {**SETTINGS, "arms": ["right"]}
        intake = {**settings, "area": AREA, "note": ""}
        case = cases.add(db, owner.id, "bench00001", "Bench", "en", intake, now)
        routines.push(db, case.id, starter(AREA), settings, "", owner.id, now)
        with write(db):
            events.append(db, case.id, "bench", [stored(screened(now.date()))], now)
        if days:
            first_on = now.date() - timedelta(days=days)
            with write(db):
                events.append(db, case.id, "bench", [stored(each) for each in trained(first_on, days)], now)
                routines.note_received(db, case.id, 1, first_on.isoformat(), now)
        return invitations.make_link(db, case.id, now).token
    finally:
        db.conn.close()


def free_port() -> int:
    """Return a port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port: int = probe.getsockname()[1]
        return port


def wait_for(process: "subprocess.Popen[bytes]", known: Settings, log: Path) -> None:
    """Wait until a server answers.

    Args:
        process: The process of the server.
        known: The settings of the server.
        log: The file with its output.

    Raises:
        NotServingError: The process ended, or nothing answered within a minute.
    """
    host, port = known.listens_on
    # The server answers only to the host of its origin, so that is the Host header; the address is where it listens.
    request = urllib.request.Request(f"http://{host}:{port}/", headers={"Host": known.host})
    until = time.monotonic() + START_SECONDS
    while time.monotonic() < until and process.poll() is None:
        with suppress(urllib.error.URLError, OSError), urllib.request.urlopen(request, timeout=2):  # noqa: S310 - as above
            return
        time.sleep(0.05)
    problem = f"no answer at {host}:{port} within {START_SECONDS} s (exit code {process.poll()})"
    raise NotServingError(f"{problem}:\n{log.read_text(encoding='utf-8')}")

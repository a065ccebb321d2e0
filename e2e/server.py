"""The real server as a process of its own, on a port of its own, to be killed as a machine dies and started again."""

import contextlib
import multiprocessing
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from datetime import UTC, date, datetime
from multiprocessing.process import BaseProcess
from pathlib import Path

from e2e import ready_server
from webapp.sync.log.local_day import local_day

HOST = "127.0.0.1"
START_SECONDS = 60
READY = multiprocessing.get_context("forkserver")
READY.set_forkserver_preload([ready_server.__name__])


def servers_day() -> date:
    """The local day of this moment by the server's clock, which stays as it is: a day starts at 03:00."""
    return local_day(datetime.now(UTC), "UTC")


def free_port() -> int:
    """A port that nobody listens on at this moment."""
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return probe.getsockname()[1]


class Server:
    """Serves one database at one address for as long as the story lets it."""

    def __init__(self, folder: Path) -> None:
        self.db_path = folder / "halfturn.db"
        self.log_path = folder / "server.log"
        self.origin = f"http://{HOST}:{free_port()}"
        self.settings: dict[str, str] = {}
        self._process: BaseProcess | subprocess.Popen[bytes] | None = None

    def start(self, program: Path | None = None) -> None:
        """Start this program, or that of another folder, and return once it answers."""
        environ = {**os.environ, "HALFTURN_DB": str(self.db_path), "HALFTURN_ORIGIN": self.origin, **self.settings}
        self._process = self._forked(environ) if program is None else self._loaded_anew(program, environ)
        self._wait_until_up()

    def _forked(self, environ: dict[str, str]) -> BaseProcess:
        process = READY.Process(target=ready_server.serve, args=(environ, self.log_path), daemon=True)
        process.start()
        return process

    def _loaded_anew(self, program: Path, environ: dict[str, str]) -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", "webapp.cli", "serve"]
        with self.log_path.open("ab") as log:
            return subprocess.Popen(
                command, cwd=program, env=environ, stdin=subprocess.DEVNULL, stdout=log, stderr=log, process_group=0
            )

    def kill(self) -> None:
        """End it at once, with nothing put away."""
        if self._process is None:
            return
        with contextlib.suppress(ProcessLookupError):
            os.kill(self._process.pid or 0, signal.SIGKILL)
        self._process.join() if isinstance(self._process, BaseProcess) else self._process.wait()
        self._process = None

    def _has_ended(self) -> bool:
        if isinstance(self._process, BaseProcess):
            return self._process.exitcode is not None
        return self._process is None or self._process.poll() is not None

    def _wait_until_up(self) -> None:
        until = time.monotonic() + START_SECONDS
        while time.monotonic() < until and not self._has_ended():
            with contextlib.suppress(urllib.error.URLError, OSError), urllib.request.urlopen(self.origin, timeout=2):
                return
            time.sleep(0.02)
        raise AssertionError(
            f"the server did not answer at {self.origin}:\n{self.log_path.read_text(encoding='utf-8')}"
        )

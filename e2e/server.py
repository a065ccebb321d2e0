"""The real server as a process of its own, on a port of its own, to be killed as a machine dies and started again."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

HOST = "127.0.0.1"
START_SECONDS = 30
ROOT = Path(__file__).resolve().parent.parent


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
        self._process: subprocess.Popen[bytes] | None = None

    def start(self, program: Path = ROOT) -> None:
        """Start the program of a folder, this one's unless another is named, and return once it answers."""
        environ = {**os.environ, "HALFTURN_DB": str(self.db_path), "HALFTURN_ORIGIN": self.origin, **self.settings}
        command = [sys.executable, "-m", "webapp.cli", "serve"]
        with self.log_path.open("ab") as log:
            self._process = subprocess.Popen(
                command, cwd=program, env=environ, stdin=subprocess.DEVNULL, stdout=log, stderr=log, process_group=0
            )
        self._wait_until_up()

    def kill(self) -> None:
        """End it and its workers at once, with nothing put away."""
        if self._process is None:
            return
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        self._process = None

    def _wait_until_up(self) -> None:
        until = time.monotonic() + START_SECONDS
        while time.monotonic() < until:
            if self._process is None or self._process.poll() is not None:
                break
            with contextlib.suppress(urllib.error.URLError, OSError), urllib.request.urlopen(self.origin, timeout=2):
                return
            time.sleep(0.05)
        raise AssertionError(
            f"the server did not answer at {self.origin}:\n{self.log_path.read_text(encoding='utf-8')}"
        )

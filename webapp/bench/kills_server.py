"""A server that is started, killed, backed up and restored many times."""

import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from webapp.bench.served import HOST, free_port, wait_for
from webapp.config import read_settings

REFUSE = "raise ImportError\n"


class KilledServer:
    """One database and its server.

    Attributes:
        path: The database.
        origin: The origin of the server.
        starts: How often it was started.
    """

    def __init__(self, folder: Path, *, is_old_sqlite: bool) -> None:
        self.folder, self.path = folder, folder / "trial.db"
        self.origin, self.starts = f"http://{HOST}:{free_port()}", 0
        self.environ = {**os.environ, "HALFTURN_DB": str(self.path), "HALFTURN_ORIGIN": self.origin}
        self._process: subprocess.Popen[bytes] | None = None
        if is_old_sqlite:
            # This module named pysqlite3 raises ImportError, so the program uses Python's own SQLite.
            (folder / "shadow").mkdir()
            (folder / "shadow" / "pysqlite3.py").write_text(REFUSE, encoding="utf-8")
            self.environ["PYTHONPATH"] = os.pathsep.join([str(folder / "shadow"), os.environ.get("PYTHONPATH", "")])

    def start(self) -> None:
        """Start the server and wait until it answers; raise a NotServingError where it does not."""
        log = self.folder / "server.log"
        with log.open("wb") as out:
            self._process = subprocess.Popen(  # noqa: S603 - our own program
                self._command("serve"), env=self.environ, stdin=subprocess.DEVNULL, stdout=out, stderr=out,
                start_new_session=True,
            )  # fmt: skip
        wait_for(self._process, read_settings(self.environ), log)
        self.starts += 1

    def kill(self) -> None:
        """Kill the server and its workers at once, as a loss of power would."""
        if self._process is not None:
            with suppress(ProcessLookupError):
                os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()
            self._process = None

    def run(self, *typed: str) -> str:
        """Run a `halfturn` command on the same database; return its output.

        Raises:
            RuntimeError: The command failed; the message is its output.
        """
        ran = subprocess.run(  # noqa: S603 - our own program
            self._command(*typed),
            env=self.environ,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
        )
        if ran.returncode:
            raise RuntimeError(ran.stdout + ran.stderr)
        return ran.stdout

    def sqlite(self) -> str:
        """Return the version of SQLite that the server uses."""
        script = "from sqlite_utils.utils import sqlite3; print(sqlite3.sqlite_version)"
        ran = subprocess.run(  # noqa: S603 - our own interpreter
            [sys.executable, "-c", script], env=self.environ, capture_output=True, text=True, check=True
        )
        return ran.stdout.strip()

    def _command(self, *typed: str) -> list[str]:
        return [sys.executable, "-m", "webapp.cli", *typed]

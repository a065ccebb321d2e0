"""Runs commands one after another, each with a hard limit, and counts what passed."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import time
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parent.parent
GRACE_SECONDS = 20
TIMED_OUT = 124
NOTHING_RAN = 5


@dataclass(frozen=True)
class Step:
    """One command: what it is called on the progress line, its words, its environment (absent: ours)."""

    name: str
    command: Sequence[str | Path]
    environ: dict[str, str] | None = None


@dataclass(frozen=True)
class Outcome:
    """How many checks passed, failed and were skipped."""

    passed: int = 0
    failed: int = 0
    skipped: int = 0

    @property
    def is_good(self) -> bool:
        """Nothing failed, and something ran."""
        return self.failed == 0 and self.passed > 0

    def __add__(self, other: Outcome) -> Outcome:
        return Outcome(self.passed + other.passed, self.failed + other.failed, self.skipped + other.skipped)

    def __str__(self) -> str:
        skipped = f", {self.skipped} skipped" if self.skipped else ""
        return f"{self.passed} passed, {self.failed} failed{skipped}"


def run_steps(steps: Sequence[Step], seconds: int) -> Outcome:
    """Run every step, one progress line each; what a step printed is shown only where it failed."""
    outcome = Outcome()
    for number, step in enumerate(steps, start=1):
        print(f"[{number}/{len(steps)}] {step.name} ... ", end="", flush=True)
        began = time.monotonic()
        code, said = _run(step, seconds, shown=False)
        print(f"{'good' if code == 0 else 'FAILED'} ({time.monotonic() - began:.1f} s)", flush=True)
        if code:
            print(said.rstrip(), flush=True)
        outcome += Outcome(passed=int(code == 0), failed=int(code != 0))
    return outcome


def pytest_outcome(step: Step, report: Path, seconds: int) -> Outcome:
    """Run pytest with its output shown as it comes, and read the counts from its report.

    A run that ends badly without a failed test to show for it (a crash, the limit, no test found) counts as one failure.
    """
    code, _ = _run(step, seconds, shown=True)
    counted = _read(report)
    if code not in {0, NOTHING_RAN} and counted.failed == 0:
        return counted + Outcome(failed=1)
    return counted


def _read(report: Path) -> Outcome:
    if not report.exists():
        return Outcome()
    suites = ET.parse(report).getroot().findall("testsuite")  # noqa: S314 - written by our own run a moment ago
    number = {
        name: sum(int(suite.get(name, 0)) for suite in suites) for name in ("tests", "failures", "errors", "skipped")
    }
    failed = number["failures"] + number["errors"]
    return Outcome(number["tests"] - failed - number["skipped"], failed, number["skipped"])


def _run(step: Step, seconds: int, *, shown: bool) -> tuple[int, str]:
    """Run one command in a session of its own, so that whatever it started can be ended with it."""
    words = [str(word) for word in step.command]
    output = None if shown else subprocess.PIPE
    process = subprocess.Popen(
        words, cwd=ROOT, env=step.environ, stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT if output else None,
        text=True, start_new_session=True,
    )  # fmt: skip
    try:
        said, _ = process.communicate(timeout=seconds)
    except subprocess.TimeoutExpired:
        _end(process)
        return TIMED_OUT, f"still running after its limit of {seconds} s, so it was ended"
    except KeyboardInterrupt:
        _end(process)
        raise
    return process.returncode, said or ""


def _end(process: subprocess.Popen[str]) -> None:
    """Ask with an interrupt, so that tests can put away their servers; then insist."""
    for sign in (signal.SIGINT, getattr(signal, "SIGKILL", signal.SIGTERM)):
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, sign)
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(timeout=GRACE_SECONDS)
            return

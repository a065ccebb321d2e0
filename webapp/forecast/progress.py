"""A bar on the terminal, for work that takes more than a second; silent anywhere else."""

import time
from collections.abc import Callable
from typing import TextIO

CELLS = 40
PATIENCE_SECONDS = 1.0


class Bar:
    """Counts ticks, and draws a bar once the work has taken more than a second.

    Attributes:
        done: The ticks so far.
    """

    def __init__(self, total: int, stream: TextIO, mono: Callable[[], float] = time.monotonic) -> None:
        self.done = 0
        self._total, self._stream, self._mono = total, stream, mono
        self._began = mono()
        self._drawn = ""

    def tick(self) -> None:
        """Count one tick."""
        self.done += 1
        if not self._stream.isatty() or self._mono() - self._began < PATIENCE_SECONDS:
            return
        share = min(1.0, self.done / self._total)
        line = f"\r[{'#' * int(CELLS * share):<{CELLS}}] {share:4.0%}"
        if line != self._drawn:
            self._drawn = line
            self._write(line)

    def clear(self) -> None:
        """Erase the bar, if it was drawn."""
        if self._drawn:
            self._write("\r" + " " * len(self._drawn) + "\r")

    def _write(self, text: str) -> None:
        self._stream.write(text)
        self._stream.flush()

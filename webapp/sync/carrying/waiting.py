"""Files of clients that were shown at the desk and wait to be taken in: in memory, one for each practitioner, for a while."""

import secrets
import threading
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import NamedTuple

KEPT_FOR = timedelta(minutes=30)
MOST_FILES = 4
"""So many files wait at most; a further one drops the oldest, so that they never fill the memory."""


class _File(NamedTuple):
    key: str
    raw: bytes
    name: str
    at: datetime


class WaitingFiles:
    """The files that wait, by practitioner. A restart forgets them; then the file is chosen again.

    Args:
        clock: Returns the present instant.
    """

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._files: dict[int, _File] = {}
        self._lock = threading.Lock()

    def keep(self, practitioner: int, raw: bytes, name: str) -> str:
        """Keep a file in the place of the practitioner's earlier one; return the key by which only they get it back."""
        kept = _File(secrets.token_urlsafe(16), raw, name, self._clock())
        with self._lock:
            self._files.pop(practitioner, None)
            self._drop_old()
            while len(self._files) >= MOST_FILES:
                del self._files[min(self._files, key=lambda each: self._files[each].at)]
            self._files[practitioner] = kept
        return kept.key

    def find(self, practitioner: int, key: str) -> tuple[bytes, str] | None:
        """Return the practitioner's file and its name, or None where it waits no more or the key is another one."""
        with self._lock:
            self._drop_old()
            kept = self._files.get(practitioner)
        return (kept.raw, kept.name) if kept and secrets.compare_digest(kept.key.encode(), key.encode()) else None

    def drop(self, practitioner: int) -> None:
        """Forget the practitioner's file."""
        with self._lock:
            self._files.pop(practitioner, None)

    def _drop_old(self) -> None:
        since = self._clock() - KEPT_FOR
        self._files = {who: kept for who, kept in self._files.items() if kept.at > since}

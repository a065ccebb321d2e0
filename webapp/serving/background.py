"""Work beside the serving: a thread of its own, which ends with the server.

Knows threads; nothing of the work.
"""

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from webapp.records.database import StorageError
from webapp.records.faults import RecordsError

_log = logging.getLogger(__name__)

HEAD_START_SECONDS = 1.0
END_SECONDS = 2.0
"""How long the end waits for the work; what it has begun in the records then is undone, as after a power cut."""

Work = Callable[[Callable[[float], bool]], None]


@contextmanager
def beside(work: Work, head_start: float = HEAD_START_SECONDS) -> Iterator[None]:
    """Do some work in a thread for as long as this lasts.

    Args:
        work: Gets a function that waits so many seconds, and returns true as soon as the work must end.
        head_start: Seconds that the server has to itself first.
    """
    ending = threading.Event()
    thread = threading.Thread(target=_run, args=(work, ending.wait, head_start), name="background", daemon=True)
    thread.start()
    try:
        yield
    finally:
        ending.set()
        thread.join(END_SECONDS)


def _run(work: Work, rest: Callable[[float], bool], head_start: float) -> None:
    if rest(head_start):
        return
    try:
        work(rest)
    except (RecordsError, StorageError) as error:
        # Nobody waits for it: what it leaves undone is done when somebody asks.
        _log.error("the work in the background ended early: %s", error)

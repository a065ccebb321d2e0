"""Serving the program with granian: one process, a few threads, plain HTTP (TLS is a proxy's)."""

from granian import Granian
from granian.constants import Interfaces

from webapp.config import Settings
from webapp.records.migrations import prepare_records

THREADS = 4
QUEUE = 512


def serve(settings: Settings) -> None:
    """Serve until stopped by a signal.

    Args:
        settings: As read from the environment; the worker reads the same environment again.
    """
    # Before any worker, so that the tables are there and a fault in the file is said at once.
    prepare_records(settings.db)
    address, port = settings.listens_on
    Granian(
        "webapp.app:create_app_from_environment",
        factory=True,
        address=address,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=THREADS,
        backlog=QUEUE,
        websockets=False,
        log_access=False,
    ).serve()

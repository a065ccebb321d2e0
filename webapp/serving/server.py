"""Serves the program until a signal ends it: one process, plain HTTP/1.1 (a proxy does TLS), with its own address and database.

Knows the operating system: signals, sockets, limits, a lock.
"""

import errno
import logging
import os
import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import partial

from uvicorn import Config, Server

from webapp.app import create_app, renew_rows_again_and_again
from webapp.client.api import MOST_BODY_BYTES
from webapp.config import SettingError, Settings
from webapp.practice import MOST_AT
from webapp.records.making import prepare_records
from webapp.records.soundness import look_over
from webapp.serving.alone import served_alone
from webapp.serving.background import beside
from webapp.serving.connection import Connection
from webapp.serving.front import Front
from webapp.words import words_here
from webapp.words.serving import CANNOT_LISTEN, NO_PROXY, PORT_TAKEN, STARTED

_log = logging.getLogger(__name__)

QUEUE = 256
END_SECONDS = 4
WANTED_FILES = 4096
# Open files that are not connections: the database in each thread, and a queue of connections that are accepted together.
FILES_FOR_THE_REST = 2 * QUEUE


def serve(settings: Settings) -> None:
    """Serve until SIGINT (Ctrl-C) or SIGTERM; then requests that have started get a few seconds to finish.

    Args:
        settings: As read from the environment.

    Raises:
        SettingError: The address is taken or not ours, or another process serves this database.
        RecordsError: The database cannot be used in its present form.
    """
    # After its shutdown uvicorn raises the signal again. With this handler both signals become a KeyboardInterrupt.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    logging.getLogger("uvicorn").setLevel(logging.ERROR)
    with suppress(KeyboardInterrupt), served_alone(settings.db), listening(settings) as listener:
        # The database is checked before the program is created, so that a fault in the file is reported at once.
        prepare_records(settings.db)
        look_over(settings.db)
        app = create_app(settings)
        front = Front(app, MOST_BODY_BYTES, MOST_AT)
        _say_started(settings)
        try:
            with beside(partial(renew_rows_again_and_again, app)):
                Server(_config(front)).run(sockets=[listener])
        finally:
            _leave(front)


@contextmanager
def listening(settings: Settings) -> Iterator[socket.socket]:
    """Listen on the address of the settings.

    Raises:
        SettingError: Another program listens there, this machine has no such address, or we may not use the port.
    """
    host, port = settings.listens_on
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        listener = socket.create_server((host, port), family=family, backlog=QUEUE)
    except OSError as error:
        sentence = PORT_TAKEN if error.errno == errno.EADDRINUSE else CANNOT_LISTEN
        message = words_here().say(sentence, host=host, port=port, why=error.strerror or error)
        raise SettingError(message) from error
    with listener:
        yield listener


def _config(front: Front) -> Config:
    limited = type("LimitedConnection", (Connection,), {"most": _room_for_connections()})
    return Config(
        front,
        http=limited,
        loop="asyncio",
        ws="none",
        lifespan="off",
        log_config=None,
        access_log=False,
        proxy_headers=False,
        server_header=False,
        timeout_keep_alive=int(Connection.quiet_seconds),
        timeout_graceful_shutdown=END_SECONDS,
        backlog=QUEUE,
    )


def _room_for_connections() -> int:
    """Raise the limit of open files as far as we want and the machine allows; return how many connections then fit."""
    with suppress(ImportError):
        import resource  # noqa: PLC0415 - Windows has none, and counts no files

        soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
        if soft != resource.RLIM_INFINITY:
            files = WANTED_FILES if hard == resource.RLIM_INFINITY else min(WANTED_FILES, hard)
            resource.setrlimit(resource.RLIMIT_NOFILE, (max(files, soft), hard))
            return max(QUEUE, min(Connection.most, max(files, soft) - FILES_FOR_THE_REST))
    return Connection.most


def _say_started(settings: Settings) -> None:
    words, (host, port) = words_here(), settings.listens_on
    sys.stdout.write(words.say(STARTED, origin=settings.origin, host=host, port=port) + "\n")
    if settings.is_secure and not settings.proxies:
        sys.stdout.write(words.say(NO_PROXY) + "\n")
    sys.stdout.flush()


def _leave(front: Front) -> None:
    """Stop the threads; a thread that is still at work must not keep the process alive."""
    if not front.end():
        _log.warning("ended with a request unanswered; what it had not stored is as if it had not been sent")
        logging.shutdown()
        sys.stdout.flush()
        os._exit(0)

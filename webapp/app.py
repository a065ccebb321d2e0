"""The Flask application: connects the rooms, and does nothing else."""

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from webapp import client, guard, practice, words
from webapp.client.api import MOST_BODY_BYTES
from webapp.client.assets import read_assets
from webapp.client.shell import install as install_shell
from webapp.config import Settings, program_hash, read_settings
from webapp.packing import packed_dir
from webapp.records import epoch
from webapp.records.database import Database, file_at, open_records
from webapp.records.derived import drop_unless_made_by
from webapp.records.making import prepare_records
from webapp.sync.carrying.waiting import WaitingFiles
from webapp.sync.case import retention
from webapp.sync.caseload import summary
from webapp.sync.limits.tries import Tries

Clock = Callable[[], datetime]

RENEWED_EACH_SECONDS = 15.0


def _machine_clock() -> datetime:
    return datetime.now(UTC)


@dataclass(frozen=True)
class Halfturn:
    """What the rooms share: settings, the clock, failed tries, files that wait, and each thread's connection to the records.

    `file` identifies the database file that was there at the start. A thread that begins later must open the same file.
    """

    settings: Settings
    file: tuple[int, int] | None
    clock: Clock
    tries: Tries
    waiting: WaitingFiles
    _threads: threading.local = field(default_factory=threading.local)

    def db(self) -> Database:
        """Return this thread's connection. It is opened once, and callers never close it.

        Raises:
            RecordsError: The database file was removed or replaced since the start.
        """
        kept: Database | None = getattr(self._threads, "db", None)
        if kept is None:
            kept = self._threads.db = open_records(self.settings.db)
        kept.check_file(self.file)
        return kept


def create_app(settings: Settings, clock: Clock | None = None) -> Flask:
    """Build the application.

    Args:
        settings: From `read_settings`, or made for a test.
        clock: Returns the present instant, UTC; by default the machine's clock.

    Returns:
        An application whose records are ready; `extensions["halfturn"]` is the `Halfturn` that the rooms share.

    Raises:
        RecordsError: The database cannot be used in its present form.
        PackingError: The files for browsers are not packed, and cannot be packed.
    """
    app = Flask(__name__, static_folder=None)
    clock = clock or _machine_clock
    prepare_records(settings.db)
    shared = app.extensions["halfturn"] = Halfturn(
        settings, file_at(settings.db), clock, Tries(clock), WaitingFiles(clock)
    )
    drop_unless_made_by(shared.db(), program_hash())
    _configure(app, settings, epoch.secret_key(shared.db()))
    words.install(app)
    install_shell(app, read_assets(packed_dir()))
    guard.install(app)
    app.register_blueprint(client.blueprint)
    app.register_blueprint(practice.blueprint, url_prefix="/practice")
    return app


def renew_rows_again_and_again(app: Flask, rest: Callable[[float], bool]) -> None:
    """Compute the missing rows of all caseloads, and look again after each `RENEWED_EACH_SECONDS`; once a day remove who is due.

    A sync leaves its client's glance stale, and with each day a glance covers one day less.

    Args:
        app: The application, from `create_app`.
        rest: As in `renew_rows`.
    """
    shared, daily = app.extensions["halfturn"], retention.Daily()
    renew_rows(app, rest)
    daily.remove(shared.db(), shared.clock())
    while not rest(RENEWED_EACH_SECONDS):
        renew_rows(app, rest)
        daily.remove(shared.db(), shared.clock())


def renew_rows(app: Flask, rest: Callable[[float], bool]) -> None:
    """Compute the missing rows of all caseloads, once; after an update of the program all rows are missing.

    Args:
        app: The application, from `create_app`.
        rest: Waits for a number of seconds; returns true if the work must end.
    """
    shared = app.extensions["halfturn"]
    summary.renew(shared.db(), shared.clock, rest)


def create_app_from_environment() -> Flask:
    """Build the application with the settings from the environment, as a server's worker does."""
    return create_app(read_settings())


def _configure(app: Flask, settings: Settings, secret_key: str) -> None:
    app.config.update(
        SECRET_KEY=secret_key,
        SERVER_NAME=settings.host,
        PREFERRED_URL_SCHEME=settings.origin.partition(":")[0],
        TRUSTED_HOSTS=[settings.host],
        MAX_CONTENT_LENGTH=MOST_BODY_BYTES,
        SESSION_COOKIE_NAME=settings.cookie("session"),
        SESSION_COOKIE_SECURE=settings.is_secure,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
    )
    if settings.proxies:
        trusted = ProxyFix(app.wsgi_app, x_for=settings.proxies, x_proto=settings.proxies)
        app.wsgi_app = trusted  # type: ignore[method-assign]

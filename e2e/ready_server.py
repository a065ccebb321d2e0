"""The program, loaded once for all servers of these stories: each one is a fork of the process that imports this.

What is served is the same, byte for byte; only the loading of the program, the packing of the assets, and the compiling and
compressing of pages whose bytes do not change, are not done anew for every story.
"""

import os
import sys
import tempfile
from pathlib import Path

from flask import Flask

from tests.builders import empty_records
from tests.compiled import compile_once
from webapp import app, cli, guard, practice, upkeep  # noqa: F401 - loaded before the fork
from webapp.client import shell
from webapp.client.assets import Assets, read_assets
from webapp.config import Settings
from webapp.packing import packed_dir
from webapp.practice.door.passwords import is_right
from webapp.serving import server  # noqa: F401 - loaded before the fork

ROOT = Path(__file__).resolve().parent.parent
ASSETS = read_assets(packed_dir())


def _carried() -> shell.Carried:
    """What phones keep, rendered and compressed, after every template was compiled once."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "empty.db"
        empty_records(path).conn.close()
        made = app.create_app(Settings(db=path))
        for name in made.jinja_env.list_templates():
            made.jinja_env.get_template(name)
        with made.test_request_context():
            carried = shell.carried()
            files = [*carried.pages.values(), carried.worker, *carried.assets.files.values()]
        made.extensions["halfturn"].db().conn.close()
    assert all(file.compressed is not None for file in files)
    return carried


def _install_shell(application: Flask, assets: Assets) -> None:
    shell.install(application, assets)
    if application.extensions["halfturn_carried"].locales == CARRIED.locales:
        application.extensions["halfturn_carried"] = CARRIED


compile_once()
is_right(None, "")
app.read_assets = lambda _: ASSETS
CARRIED = _carried()
app.install_shell = _install_shell


def serve(environ: dict[str, str], log: Path) -> None:
    """Be `halfturn serve` under these settings, its lines written to a file."""
    os.setpgid(0, 0)
    os.chdir(ROOT)
    with log.open("ab") as lines:
        for descriptor in (sys.stdout.fileno(), sys.stderr.fileno()):
            os.dup2(lines.fileno(), descriptor)
    sys.exit(cli.main(["serve"], environ))

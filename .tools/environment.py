"""The project's own Python environment, .venv: made, filled and kept in step with pyproject.toml.

Knows pip and, on Debian as root, apt-get; the standard library only, because it runs before anything is installed.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
STAMP = VENV / "halfturn-installed.json"
OLDEST_PYTHON = (3, 11)
INSTALL_SECONDS = 1200
NODE_LIBRARY = "libatomic.so.1"


class SetupError(Exception):
    """This machine lacks something; the message says what, and how to get it."""


def prepare(extras: Sequence[str] = ()) -> Path:
    """Make .venv hold the project and the given extras, installing only what changed.

    Args:
        extras: names of optional dependency groups in pyproject.toml, such as "test".

    Returns:
        The path of the environment's Python.

    Raises:
        SetupError: Python is too old, or cannot make an environment here, or the install failed.
    """
    if sys.version_info < OLDEST_PYTHON:
        found = ".".join(map(str, sys.version_info[:3]))
        raise SetupError(f"Python {found} is too old: Halfturn needs 3.11 or newer. Start this with a newer python3.")
    wanted = sorted({*extras, *_installed_extras()})
    if not _is_usable():
        _make()
        wanted = sorted(extras)
    if _stamp_text(wanted) != _read_stamp():
        _install(wanted)
    return python_path()


def python_path() -> Path:
    """Return where the environment's Python is, whether or not it exists yet."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def install_debian_packages(*names: str) -> None:
    """Install Debian packages, waiting up to 400 s for another apt-get to end.

    Raises:
        SetupError: apt-get refused.
    """
    print(f"Installing {', '.join(names)} with apt-get ...", flush=True)
    base = ["apt-get", "-q", "-y", "-o", "DPkg::Lock::Timeout=400"]
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    run = {"env": quiet, "stdin": subprocess.DEVNULL, "stdout": subprocess.DEVNULL, "timeout": INSTALL_SECONDS}
    subprocess.run([*base, "update"], check=False, **run)
    done = subprocess.run([*base, "install", "--no-install-recommends", *names], check=False, **run)
    if done.returncode:
        raise SetupError(
            f"apt-get could not install {', '.join(names)} (exit {done.returncode}); its own words are above."
        )


def may_install_debian_packages() -> bool:
    """Say whether this is root on a machine with apt-get."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def ensure_it_runs(command: Sequence[str]) -> None:
    """Start a program once; where a Debian machine lacks the one library that Node leans on, install it.

    Raises:
        SetupError: it does not start here; its own words say why.
    """
    tried = subprocess.run(command, check=False, capture_output=True, text=True, timeout=60)
    if tried.returncode and NODE_LIBRARY in tried.stderr and may_install_debian_packages():
        install_debian_packages("libatomic1")
        tried = subprocess.run(command, check=False, capture_output=True, text=True, timeout=60)
    if tried.returncode:
        raise SetupError(f"{' '.join(map(str, command))} does not start on this machine: {tried.stderr.strip()}")


def _is_usable() -> bool:
    if not python_path().exists():
        return False
    probe = [str(python_path()), "-c", "import pip"]
    return subprocess.run(probe, check=False, capture_output=True, timeout=60).returncode == 0


def _make() -> None:
    print("Making .venv ...", flush=True)
    command = [sys.executable, "-m", "venv", "--clear", str(VENV)]
    if subprocess.run(command, check=False, capture_output=True, timeout=300).returncode == 0:
        return
    # Debian ships the venv module without the part that puts pip into it.
    if not may_install_debian_packages():
        raise SetupError("This Python cannot make an environment: install the package python3-venv, then start again.")
    install_debian_packages("python3-venv")
    made = subprocess.run(command, check=False, capture_output=True, text=True, timeout=300)
    if made.returncode:
        raise SetupError(f"Python could not make .venv: {made.stderr.strip() or made.stdout.strip()}")


def _install(extras: Sequence[str]) -> None:
    requirement = f".[{','.join(extras)}]" if extras else "."
    print(f"Installing Halfturn{' with ' + ', '.join(extras) if extras else ''} into .venv ...", flush=True)
    STAMP.unlink(missing_ok=True)
    pip = [
        str(python_path()),
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--editable",
        requirement,
    ]
    done = subprocess.run(pip, check=False, cwd=ROOT, stdin=subprocess.DEVNULL, timeout=INSTALL_SECONDS)
    if done.returncode:
        raise SetupError(f"pip could not install Halfturn (exit {done.returncode}); its own words are above.")
    STAMP.write_text(_stamp_text(extras), encoding="utf-8")


def _read_stamp() -> str:
    return STAMP.read_text(encoding="utf-8") if STAMP.exists() else ""


def _installed_extras() -> list[str]:
    return json.loads(_read_stamp())["extras"] if STAMP.exists() else []


def _stamp_text(extras: Sequence[str]) -> str:
    project = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    return json.dumps({"extras": list(extras), "project": project, "root": str(ROOT)})

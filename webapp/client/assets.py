"""What browsers fetch, read into memory once: the bytes that are hashed are the very bytes that are served.

Knows the folder of assets; no request.
"""

import gzip
import hashlib
import mimetypes
import re
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import brotli

WORKER = "service_worker.js"
BUILD_LENGTH = 16
# Of these types only, since pictures and sounds are compressed already.
WORTH_COMPRESSING = ("text/", "application/json", "application/manifest+json", "image/svg+xml")
SMALLEST_COMPRESSED = 300
# What a phone carries stands here; `desk/` and `outside/` are for pages outside the installed app. The icons in PNG are asked
# for once, by the browser that puts the app on the home screen.
CARRIED = re.compile(r"js/|css/|icons/.*\.svg")

# The tables of the machine differ from one to the next.
_TYPES = {".js": "text/javascript", ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml"}


@dataclass(frozen=True)
class Asset:
    """One file as served: its bytes, its type, the SHA-256 of its bytes in hex."""

    body: bytes
    mimetype: str
    sha256: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "sha256", hashlib.sha256(self.body).hexdigest())

    @property
    def mark(self) -> str:
        """Return the part of the hash that stands in the address."""
        return self.sha256[:BUILD_LENGTH]

    @cached_property
    def compressed(self) -> dict[str, bytes]:
        """The bytes compressed, by content coding, the smallest first; empty where that does not pay.

        Worked out once and as small as it gets: the bytes do not change, and a phone far from a mast waits for each.
        """
        if len(self.body) < SMALLEST_COMPRESSED or not self.mimetype.startswith(WORTH_COMPRESSING):
            return {}
        return {"br": brotli.compress(self.body, quality=11), "gzip": gzip.compress(self.body, mtime=0)}


@dataclass(frozen=True)
class Assets:
    """Every file of one build, by its path in the folder; the worker is kept apart, at a fixed address.

    Attributes:
        build: A hash of all paths and bytes.
        files: By path with forward slashes.
        worker: The source of the service worker, as written.
    """

    build: str
    files: dict[str, Asset]
    worker: bytes

    def url(self, path: str) -> str:
        """Return the address of a file; a hash of the file is part of it, so that an address never changes its bytes.

        Raises:
            LookupError: There is no such file; the message names it.
        """
        if path not in self.files:
            raise LookupError(f"no file pwa_assets/{path} is served: name one that is, or add it to packing.ENTRIES")
        return f"/assets/{self.files[path].mark}/{path}"

    def at(self, mark: str, path: str) -> Asset | None:
        """Return the file at an address, None where there is none, or one with other bytes."""
        found = self.files.get(path)
        return found if found is not None and found.mark == mark else None

    def carried(self) -> list[str]:
        """List the paths that a phone keeps for use without a network."""
        return [path for path in self.files if CARRIED.match(path)]


def read_assets(directory: Path) -> Assets:
    """Read every file of a folder, hidden ones left out."""
    files = {path: _asset(directory / path) for path in _paths(directory)}
    worker = files.pop(WORKER, None)
    listing = "\n".join(f"{path} {asset.sha256}" for path, asset in files.items())
    build = hashlib.sha256(listing.encode()).hexdigest()[:BUILD_LENGTH]
    return Assets(build, files, worker.body if worker else b"")


def _paths(directory: Path) -> list[str]:
    found = (path.relative_to(directory) for path in directory.rglob("*") if path.is_file())
    return sorted(path.as_posix() for path in found if not any(part.startswith(".") for part in path.parts))


def _asset(path: Path) -> Asset:
    guessed = _TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0]
    return Asset(path.read_bytes(), guessed or "application/octet-stream")

"""The files that browsers fetch. They are read into memory once, so the hashed bytes are also the served bytes.

Knows the folder of assets, but no request.
"""

import gzip
import hashlib
import mimetypes
import re
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

import brotli

from webapp.packing import mark

WORKER = "service_worker.js"
BUILD_LENGTH = 16
# Only these types are compressed; pictures and sounds already are.
WORTH_COMPRESSING = ("text/", "application/json", "application/manifest+json", "image/svg+xml")
SMALLEST_COMPRESSED = 300
# A phone keeps the files in these folders; `desk/` and `outside/` are for pages outside the installed app. A browser fetches
# the PNG icons only once, when it puts the app on the home screen.
CARRIED = re.compile(r"js/|css/|fonts/.*\.woff2|icons/.*\.svg")

# Every machine has its own table of types, so the types are listed here.
_TYPES = {
    ".js": "text/javascript",
    ".woff2": "font/woff2",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
}


@dataclass(frozen=True)
class Asset:
    """A file as it is served: its bytes, its media type, the SHA-256 of its bytes in hex."""

    body: bytes
    mimetype: str
    sha256: str = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "sha256", hashlib.sha256(self.body).hexdigest())

    @property
    def mark(self) -> str:
        """The part of the hash that is in the file's address."""
        return mark(self.body)

    @cached_property
    def compressed(self) -> dict[str, bytes]:
        """The compressed bytes by content coding, the smallest first; empty if compression saves nothing.

        Computed once with the strongest setting: the bytes do not change, and on a slow network every byte costs time.
        """
        if len(self.body) < SMALLEST_COMPRESSED or not self.mimetype.startswith(WORTH_COMPRESSING):
            return {}
        return {"br": brotli.compress(self.body, quality=11), "gzip": gzip.compress(self.body, mtime=0)}


@dataclass(frozen=True)
class Assets:
    """All files of one build, by their path in the folder; the service worker is separate, since its address is fixed.

    Attributes:
        build: A hash of all paths and bytes.
        files: The files, by path with forward slashes.
        worker: The source of the service worker, unchanged.
    """

    build: str
    files: dict[str, Asset]
    worker: bytes

    def url(self, path: str) -> str:
        """Return the address of a file. A hash of the file is part of the address, so the bytes at an address never change.

        Raises:
            LookupError: There is no such file; the message names the path.
        """
        if path not in self.files:
            raise LookupError(f"no file pwa_assets/{path} is served: name one that is, or add it to packing.ENTRIES")
        return f"/assets/{self.files[path].mark}/{path}"

    def at(self, wanted: str, path: str) -> Asset | None:
        """Return the file at an address, or None if there is no such file or its hash differs from `wanted`."""
        found = self.files.get(path)
        return found if found is not None and found.mark == wanted else None

    def carried(self) -> list[str]:
        """List the paths of the files that a phone keeps for use without a network."""
        return [path for path in self.files if CARRIED.match(path)]


def read_assets(directory: Path) -> Assets:
    """Read every file of a folder, except hidden files."""
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

"""Settings of the running program, read from the environment once, and the paths of its files.

Knows the environment and the disk, but no room of the program.
"""

import hashlib
import ipaddress
import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from urllib.parse import SplitResult, urlsplit

DEFAULT_ORIGIN = "http://127.0.0.1:8765"
DEFAULT_PORTS = {"http": 80, "https": 443}
BEHIND_A_PROXY = ("127.0.0.1", 8765)
MOST_PROXIES = 9


class SettingError(ValueError):
    """A setting in the environment cannot be used."""


@dataclass(frozen=True)
class Settings:
    """The settings of a running program.

    Attributes:
        db: The path of the SQLite file; its folder must exist.
        origin: Scheme, host and port that people type, without a path.
        locales: The served languages, the default first.
        listen: Address and port to listen on; None if `origin` says it, or if a proxy is in front.
        proxies: The number of proxies in front, each of which adds to X-Forwarded-For; 0 to 9. If the number is too small,
            all visitors seem to come from the proxy; then a visitor who guesses passwords or codes makes all others wait.
    """

    db: Path = Path("halfturn.sqlite3")
    origin: str = DEFAULT_ORIGIN
    locales: tuple[str, ...] = ("en",)
    listen: tuple[str, int] | None = None
    proxies: int = 0

    @property
    def is_secure(self) -> bool:
        """Whether browsers reach the program over TLS, so that cookies may require TLS."""
        return self.origin.startswith("https://")

    @property
    def host(self) -> str:
        """Host and port as a browser sends them in the Host header."""
        return urlsplit(self.origin).netloc

    @property
    def listens_on(self) -> tuple[str, int]:
        """The address and the port to listen on: `listen`, or the origin's address if it is one of this machine."""
        parts = urlsplit(self.origin)
        host = parts.hostname or ""
        if self.listen or self.is_secure or not _is_address(host):
            return self.listen or BEHIND_A_PROXY
        return host, parts.port or DEFAULT_PORTS[parts.scheme]

    def cookie(self, name: str) -> str:
        """Return a cookie's full name; over TLS its prefix makes browsers send it only to this host."""
        return f"__Host-halfturn_{name}" if self.is_secure else f"halfturn_{name}"

    @property
    def device_cookie(self) -> str:
        """The name of the cookie on a client's phone."""
        return self.cookie("device")


def read_settings(environ: Mapping[str, str] = os.environ) -> Settings:
    """Read the settings.

    Args:
        environ: HALFTURN_DB, HALFTURN_ORIGIN, HALFTURN_LOCALES (language tags, separated by commas),
            HALFTURN_LISTEN and HALFTURN_PROXIES; each may be absent.

    Raises:
        SettingError: A setting cannot be used; the message names the setting, its value and the rule.
    """
    plain = Settings()
    return Settings(
        db=Path(environ.get("HALFTURN_DB") or plain.db),
        origin=_origin(environ.get("HALFTURN_ORIGIN") or plain.origin),
        locales=served_locales(environ),
        listen=_listen(environ.get("HALFTURN_LISTEN") or ""),
        proxies=_count("HALFTURN_PROXIES", environ.get("HALFTURN_PROXIES") or "0"),
    )


def _origin(text: str) -> str:
    parts = urlsplit(text)
    extra = parts.path.strip("/") or parts.query or parts.fragment or parts.username
    if parts.scheme not in DEFAULT_PORTS or not parts.hostname or extra or _port(parts) is None:
        raise SettingError(
            f"HALFTURN_ORIGIN is {text!r}; it must be a scheme, a host and perhaps a port,"
            f" such as {DEFAULT_ORIGIN} or https://halfturn.example"
        )
    return f"{parts.scheme}://{parts.netloc.lower()}"


def _listen(text: str) -> tuple[str, int] | None:
    parts = urlsplit(f"//{text}")
    host, port = parts.hostname or "", _port(parts)
    if text and (not _is_address(host) or not port or parts.netloc != text or parts.username):
        raise SettingError(
            f"HALFTURN_LISTEN is {text!r}; it must be an address of this machine in numbers, or localhost, a colon and"
            " a port from 1 to 65535, such as 127.0.0.1:8765 or [::1]:8765"
        )
    return (host, port) if port else None


def _port(parts: SplitResult) -> int | None:
    """Return the port of an address, 0 if the address has no port, None if the port is not valid."""
    try:
        return parts.port or 0
    except ValueError:
        return None


def _is_address(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True


def served_locales(environ: Mapping[str, str]) -> tuple[str, ...]:
    """Return the tags in HALFTURN_LOCALES, the default first; English alone where it is absent."""
    named = (tag.strip() for tag in environ.get("HALFTURN_LOCALES", "").split(","))
    return tuple(dict.fromkeys(tag for tag in named if tag)) or Settings().locales


def _count(name: str, text: str) -> int:
    if text not in map(str, range(MOST_PROXIES + 1)):
        raise SettingError(f"{name} is {text!r}; it must be a whole number from 0 to {MOST_PROXIES}")
    return int(text)


def content_dir() -> Path:
    """Return the folder of movements, routines and catalogues."""
    return _shipped("_content", "content")


@cache
def program_hash() -> str:
    """Return a hash of the program and its content as this process found them, as hex. A result cached under another hash is stale."""
    folders = (Path(__file__).parent, content_dir())
    files = sorted(path for folder in folders for ext in ("py", "toml", "po") for path in folder.rglob(f"*.{ext}"))
    whole = hashlib.sha256()
    for path in files:
        whole.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return whole.hexdigest()


def _shipped(inside_package: str, beside_it: str) -> Path:
    package = Path(__file__).parent
    carried = package / inside_package
    return carried if carried.is_dir() else package.parent / beside_it

"""Settings of the running program, read from the environment once, and where its files lie.

Knows the environment and the disk; no room of the program.
"""

import hashlib
import ipaddress
import os
from collections.abc import Mapping
from dataclasses import dataclass
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
    """What a running program may be told.

    Attributes:
        db: The SQLite file; its folder must exist.
        origin: Scheme, host and port that people type, without a path.
        locales: The languages served, the default first.
        listen: Address and port to listen on; absent where `origin` says it, or a proxy is expected.
        proxies: How many proxies stand in front, each adding to X-Forwarded-For; 0 means none. With too few, all
            visitors seem to come from the proxy, and one who guesses passwords or codes makes all of them wait.
    """

    db: Path = Path("halfturn.sqlite3")
    origin: str = DEFAULT_ORIGIN
    locales: tuple[str, ...] = ("en",)
    listen: tuple[str, int] | None = None
    proxies: int = 0

    @property
    def is_secure(self) -> bool:
        """Say whether browsers reach us over TLS, so that cookies may be tied to it."""
        return self.origin.startswith("https://")

    @property
    def host(self) -> str:
        """Give host and port as a browser sends them in its Host line."""
        return urlsplit(self.origin).netloc

    @property
    def listens_on(self) -> tuple[str, int]:
        """Give the address and the port to listen on: as told, or the origin's where that names this machine."""
        parts = urlsplit(self.origin)
        host = parts.hostname or ""
        if self.listen or self.is_secure or not _is_address(host):
            return self.listen or BEHIND_A_PROXY
        return host, parts.port or DEFAULT_PORTS[parts.scheme]

    def cookie(self, name: str) -> str:
        """Give a cookie's full name: bound to this very host where TLS allows it."""
        return f"__Host-halfturn_{name}" if self.is_secure else f"halfturn_{name}"

    @property
    def device_cookie(self) -> str:
        """Give the name of the cookie that a client's phone carries."""
        return self.cookie("device")


def read_settings(environ: Mapping[str, str] = os.environ) -> Settings:
    """Read the settings.

    Args:
        environ: HALFTURN_DB, HALFTURN_ORIGIN, HALFTURN_LOCALES (tags, commas between),
            HALFTURN_LISTEN and HALFTURN_PROXIES; each may be absent.

    Raises:
        SettingError: One of them cannot be used; the message names it, its value and the rule.
    """
    plain = Settings()
    return Settings(
        db=Path(environ.get("HALFTURN_DB") or plain.db),
        origin=_origin(environ.get("HALFTURN_ORIGIN") or plain.origin),
        locales=_locales(environ.get("HALFTURN_LOCALES")) or plain.locales,
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
    """Give the port that an address names, 0 for one that names none; None for a port that cannot be."""
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


def _locales(text: str | None) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tag.strip() for tag in (text or "").split(",") if tag.strip()))


def _count(name: str, text: str) -> int:
    if text not in map(str, range(MOST_PROXIES + 1)):
        raise SettingError(f"{name} is {text!r}; it must be a whole number from 0 to {MOST_PROXIES}")
    return int(text)


def content_dir() -> Path:
    """Find the folder of movements, routines and catalogues."""
    return _shipped("_content", "content")


def program_hash() -> str:
    """Hash the program and its content: what another state of them worked out is not to be trusted."""
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

"""Settings of the running program, read from the environment once, and where its files lie.

Knows the environment and the disk; no room of the program.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

DEFAULT_ORIGIN = "http://127.0.0.1:8765"
DEFAULT_PORTS = {"http": 80, "https": 443}


class SettingError(ValueError):
    """A setting in the environment cannot be used."""


@dataclass(frozen=True)
class Settings:
    """What a running program may be told.

    Attributes:
        db: The SQLite file; its folder must exist.
        origin: Scheme, host and port that people type, without a path.
        locales: The languages served, the default first.
        listen: host:port to listen on; empty means that of `origin` (behind a proxy it differs).
        proxies: How many proxies stand in front, each adding to X-Forwarded-For; 0 means none. With too few, all
            visitors seem to come from the proxy, and one who guesses passwords or codes makes all of them wait.
    """

    db: Path = Path("halfturn.sqlite3")
    origin: str = DEFAULT_ORIGIN
    locales: tuple[str, ...] = ("en",)
    listen: str = ""
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
        """Give the address and the port to listen on."""
        parts = urlsplit(f"//{self.listen}" if self.listen else self.origin)
        return parts.hostname or "127.0.0.1", parts.port or DEFAULT_PORTS[parts.scheme or "http"]

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
        listen=environ.get("HALFTURN_LISTEN", ""),
        proxies=_count("HALFTURN_PROXIES", environ.get("HALFTURN_PROXIES") or "0"),
    )


def _origin(text: str) -> str:
    parts = urlsplit(text)
    if parts.scheme not in DEFAULT_PORTS or not parts.hostname or parts.path.strip("/") or parts.query:
        raise SettingError(
            f"HALFTURN_ORIGIN is {text!r}; it must be a scheme, a host and perhaps a port,"
            f" such as {DEFAULT_ORIGIN} or https://halfturn.example"
        )
    return f"{parts.scheme}://{parts.netloc.lower()}"


def _locales(text: str | None) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tag.strip() for tag in (text or "").split(",") if tag.strip()))


def _count(name: str, text: str) -> int:
    if not text.isdecimal():
        raise SettingError(f"{name} is {text!r}; it must be a whole number, 0 or more")
    return int(text)


def content_dir() -> Path:
    """Find the folder of movements, routines and catalogues."""
    return _shipped("_content", "content")


def assets_dir() -> Path:
    """Find the folder of what a browser fetches."""
    return _shipped("_pwa_assets", "pwa_assets")


def _shipped(inside_package: str, beside_it: str) -> Path:
    package = Path(__file__).parent
    carried = package / inside_package
    return carried if carried.is_dir() else package.parent / beside_it

"""Configuration files for a proxy or systemd, filled with the present settings.

Knows the settings and the texts in templates/recipes; runs nothing.
"""

import sys
from pathlib import Path
from string import Template
from urllib.parse import urlsplit

from webapp.config import DEFAULT_PORTS, SettingError, Settings
from webapp.words import words_here
from webapp.words.serving import RECIPE_NEEDS_HTTPS

PROXIES = ("caddy", "nginx")
RECIPES = (*PROXIES, "systemd")
_FOLDER = Path(__file__).parent.parent / "templates" / "recipes"


def recipe(name: str, settings: Settings) -> str:
    """Return the text of a recipe.

    Args:
        name: One of RECIPES.
        settings: The settings that Halfturn will run with.

    Raises:
        SettingError: A proxy's recipe is asked for an origin that is not https.
    """
    if name in PROXIES and not settings.is_secure:
        raise SettingError(words_here().say(RECIPE_NEEDS_HTTPS, origin=settings.origin))
    template = Template((_FOLDER / name).read_text(encoding="utf-8"))
    gaps = _gaps(settings)
    return template.substitute({gap: _escaped(value) for gap, value in gaps.items()} if name == "systemd" else gaps)


def _gaps(settings: Settings) -> dict[str, str]:
    parts, (address, port) = urlsplit(settings.origin), settings.listens_on
    db = settings.db.absolute()
    return {
        "origin": settings.origin,
        "host": parts.hostname or "",
        "port": str(parts.port or DEFAULT_PORTS[parts.scheme]),
        "listen": f"[{address}]:{port}" if ":" in address else f"{address}:{port}",
        "db": str(db),
        "folder": str(db.parent),
        "proxies": str(settings.proxies),
        "locales": ",".join(settings.locales),
        "python": sys.executable,
    }


def _escaped(text: str) -> str:
    """Escape a text for quotes in a unit file: percent signs by systemd.unit(5), backslashes and quotes by systemd.syntax(7)."""
    return text.replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%")

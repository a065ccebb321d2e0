"""Files for what serves Halfturn to the world, filled with the settings at hand.

Knows the settings and the texts in templates/recipes; runs nothing.
"""

import sys
from pathlib import Path
from string import Template
from urllib.parse import urlsplit

from webapp.config import DEFAULT_PORTS, Settings

RECIPES = ("caddy", "nginx", "systemd")
_FOLDER = Path(__file__).parent.parent / "templates" / "recipes"


def recipe(name: str, settings: Settings) -> str:
    """Return the text of a recipe.

    Args:
        name: One of RECIPES.
        settings: Those that Halfturn will be served with.
    """
    template = Template((_FOLDER / name).read_text(encoding="utf-8"))
    return template.substitute(_gaps(settings))


def _gaps(settings: Settings) -> dict[str, object]:
    parts, (address, port) = urlsplit(settings.origin), settings.listens_on
    db = settings.db.absolute()
    return {
        "origin": settings.origin,
        "host": parts.hostname,
        "port": parts.port or DEFAULT_PORTS[parts.scheme],
        "listen": f"[{address}]:{port}" if ":" in address else f"{address}:{port}",
        "db": db,
        "folder": db.parent,
        "proxies": settings.proxies,
        "locales": ",".join(settings.locales),
        "python": sys.executable,
    }

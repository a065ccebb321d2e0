"""The page of the looks, written from the style sheets themselves, so that it shows what they hold now."""

import re
import shutil
from pathlib import Path
from types import SimpleNamespace

from jinja2 import Environment, PackageLoader, StrictUndefined

from webapp.words import DEFAULT_LOCALE, install

PAGE = "looks.html"
FOLDERS = ("css", "desk", "fonts")
BLOCK = re.compile(r":root \{(.+?)\n\s*\}", re.DOTALL)
TOKEN = re.compile(r"--([\w-]+):\s+([^;]+);")
ICON = re.compile(r"'(\w+)'")


def tokens_of(sheet: str) -> tuple[dict[str, str], dict[str, str]]:
    """Return the tokens of the day and those of the night; by night the day's hold too, but for those written again.

    Args:
        sheet: The text of `css/tokens.css`.
    """
    day, night, *_forced = (dict(TOKEN.findall(block)) for block in BLOCK.findall(sheet))
    return day, {**day, **night}


def _environment() -> Environment:
    environment = Environment(
        loader=PackageLoader("webapp"), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    install(SimpleNamespace(jinja_env=environment))
    return environment


def _icons(environment: Environment) -> list[str]:
    text = Path(environment.get_template("desk/icons.html").filename or "").read_text(encoding="utf-8")
    return ICON.findall(text)


def page_of(sheet: str, locale: str = DEFAULT_LOCALE) -> str:
    """Return the page; it names the sheets beside it by relative addresses.

    Args:
        sheet: The text of `css/tokens.css`.
        locale: The language of the few words around the parts.
    """
    environment, (day, night) = _environment(), tokens_of(sheet)
    grounds = {"day": day, "night": night}
    page = environment.get_template("looks/page.html")
    return page.render(grounds=grounds, locale=locale, icons=_icons(environment))


def write_looks(sources: Path, folder: Path) -> Path:
    """Write the page and what it needs into a folder, and return the page's path.

    Args:
        sources: The folder of sources for browsers.
        folder: Where they go; it is made if it is missing.

    Raises:
        OSError: The folder cannot be written to.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name in FOLDERS:
        shutil.copytree(sources / name, folder / name, dirs_exist_ok=True, ignore=shutil.ignore_patterns("*.js"))
    page = folder / PAGE
    page.write_text(page_of((sources / "css/tokens.css").read_text(encoding="utf-8")), encoding="utf-8")
    return page


def is_foreign(folder: Path) -> bool:
    """Return whether a folder holds files, none of which is a page of the looks."""
    return folder.is_dir() and not (folder / PAGE).exists() and any(folder.iterdir())

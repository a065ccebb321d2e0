"""The page of the looks, written from the style sheets themselves, so that it shows what they hold now."""

import re
import shutil
from importlib import resources
from pathlib import Path
from types import SimpleNamespace

from jinja2 import Environment, PackageLoader, StrictUndefined

from webapp.words import DEFAULT_LOCALE, install

PAGE, SHEET = "looks.html", "looks.css"
FOLDERS = ("css", "desk", "fonts")
BLOCK = re.compile(r":root \{(.+?)\n\s*\}", re.DOTALL)
TOKEN = re.compile(r"--([\w-]+):\s+([^;]+);")
# What the sheets call the parts; the page shows each under its own name.
PRESSED = ("do", "plain", "back", "flat", "ease", "leaves", "stops")
READ = ("notice", "faults", "jump", "slip", "hatch")
KEYS = ("left", "right")
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


def page_of(tokens: str, locale: str = DEFAULT_LOCALE) -> str:
    """Return the page; it names the sheets beside it by relative addresses.

    Args:
        tokens: The text of `css/tokens.css`.
        locale: The language of the few words around the parts.
    """
    environment, (day, night) = _environment(), tokens_of(tokens)
    page = environment.get_template("looks/page.html")
    parts = {"icons": _icons(environment), "pressed": PRESSED, "read": READ, "keys": KEYS}
    return page.render(grounds={"day": day, "night": night}, locale=locale, **parts)


def sheet_of(tokens: str) -> str:
    """Return the sheet of the page: its layout, the tokens of both grounds, and a class for each token that is shown.

    Args:
        tokens: The text of `css/tokens.css`.
    """
    day, night = tokens_of(tokens)
    rules = [resources.files("webapp.looks").joinpath("page.css").read_text(encoding="utf-8")]
    for name, ground in (("day", day), ("night", night)):
        rules.append(f".{name} {{ " + " ".join(f"--{token}: {value};" for token, value in ground.items()) + " }")
    for token, value in day.items():
        shown = "background" if value.startswith("#") else "font-size" if token.startswith("size") else "inline-size"
        rules.append(f".looks .of-{token} {{ {shown}: var(--{token}); }}")
    return "\n".join(rules)


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
    tokens, page = (sources / "css/tokens.css").read_text(encoding="utf-8"), folder / PAGE
    (folder / SHEET).write_text(sheet_of(tokens), encoding="utf-8")
    page.write_text(page_of(tokens), encoding="utf-8")
    return page


def is_foreign(folder: Path) -> bool:
    """Return whether a folder holds files, none of which is a page of the looks."""
    return folder.is_dir() and not (folder / PAGE).exists() and any(folder.iterdir())

"""The files that a phone keeps: the shell and the manifest of each language, the assets, and the service worker.

All answers are anonymous: nothing here reads a cookie or a session, since the phone caches these answers for weeks.
"""

import hashlib
import struct
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import msgspec
from flask import Response, abort, current_app, redirect, render_template

from webapp.client import blueprint
from webapp.client.assets import BUILD_LENGTH, Asset, Assets
from webapp.client.handbook import said_handbook, said_movements
from webapp.client.http_json import as_asset
from webapp.client.pages import chosen_locale
from webapp.client.reminders import said_reminder
from webapp.dosing.settings import BOUNDS
from webapp.events.kinds import LEVELS
from webapp.library.handbook import numbers
from webapp.library.shelf import the_shelf
from webapp.words import consent, names_of, words_for

FOREVER = "public, max-age=31536000, immutable"
ASK_FIRST = "no-cache"
# These bytes of a PNG file hold its width and its height.
PNG_SIZE = slice(16, 24)


@dataclass(frozen=True)
class Carried:
    """All files that a phone keeps; made once for each running program.

    Attributes:
        assets: The assets of this build.
        locales: The served languages, the default first.
    """

    assets: Assets
    locales: tuple[str, ...]

    @cached_property
    def pages(self) -> dict[str, Asset]:
        """The shell, its later templates and the manifest of each language, by address."""
        return {url: page for pages in self._pages_by_locale.values() for url, page in pages}

    @cached_property
    def _pages_by_locale(self) -> dict[str, list[tuple[str, Asset]]]:
        return {locale: _pages_of(locale, self.assets, self.locales) for locale in self.locales}

    @cached_property
    def worker(self) -> Asset:
        """The service worker, with the list of its files and their hashes at the top.

        If one byte of one file changes, the worker changes too, so browsers fetch the new files.
        """
        entries = [*self._asset_entries(), *self._page_entries()]
        listed = msgspec.json.encode(entries)
        build = hashlib.sha256(listed + self.assets.worker).hexdigest()[:BUILD_LENGTH]
        about = {"build": build, "shells": {tag: shell_url(tag) for tag in self.locales}, "precache": entries}
        return Asset(b"self.HALFTURN = " + msgspec.json.encode(about) + b";\n" + self.assets.worker, "text/javascript")

    def _asset_entries(self) -> list[dict[str, str]]:
        files = self.assets.files
        return [{"url": self.assets.url(path), "sha256": files[path].sha256} for path in self.assets.carried()]

    def _page_entries(self) -> list[dict[str, str]]:
        return [
            {"url": url, "sha256": page.sha256, "locale": locale}
            for locale, pages in self._pages_by_locale.items()
            for url, page in pages
        ]


def shell_url(locale: str) -> str:
    """Return the address of a language's shell."""
    return f"/app/{locale}/"


def manifest_url(locale: str) -> str:
    """Return the address of a language's manifest."""
    return f"/app/{locale}/manifest.webmanifest"


def _pages_of(locale: str, assets: Assets, served: tuple[str, ...]) -> list[tuple[str, Asset]]:
    context = {
        "locale": locale,
        "languages": names_of(served),
        "build": assets.build,
        "start_url": shell_url(locale),
        "manifest_url": manifest_url(locale),
        "icons": icons_of(assets),
        "pictures": pictures_of(assets),
        "signs_mark": the_shelf().signs_mark,
        "levels": levels_in(locale),
        "highest_usual": BOUNDS["usual"].high,
        "consent": consent,
    }
    book: dict[str, Any] = {
        "handbook": said_handbook(locale),
        "numbers": numbers(),
        "movements": said_movements(locale),
    }
    book["reminders"] = said_reminder(locale)
    later = Asset(render_template("shell/later.html", **context, **book).encode(), "text/html")
    later_url = f"/assets/{later.mark}/{locale}/later.html"
    shell = render_template("shell/page.html", later_url=later_url, **context).encode()
    manifest = render_template("shell/manifest.json", **context).encode()
    return [
        (shell_url(locale), Asset(shell, "text/html")),
        (later_url, later),
        (manifest_url(locale), Asset(manifest, "application/manifest+json")),
    ]


def levels_in(locale: str) -> list[dict[str, Any]]:
    """List the levels of warning signs in a language, the most urgent first: name, act, note and signs, as the screening asks."""
    shelf, say = the_shelf(), words_for(locale).say
    return [
        {
            "name": level,
            "act": say(shelf.to_do[level]),
            "note": say(shelf.to_know[level]) if level in shelf.to_know else "",
            "signs": [
                {"id": sign.id, "is_whole": sign.is_whole, "text": say(sign.text)}
                for sign in shelf.warnings
                if sign.level == level
            ],
        }
        for level in LEVELS
    ]


def icons_of(assets: Assets) -> list[dict[str, str]]:
    """List the icons for the manifest: every PNG in icons/, with its size from its header."""
    found = []
    for path, asset in assets.files.items():
        if path.startswith("icons/") and path.endswith(".png") and "apple" not in path:
            purpose = "maskable" if "maskable" in path else "any"
            found.append({"src": assets.url(path), "sizes": _size_of(asset), "type": "image/png", "purpose": purpose})
    return found


def pictures_of(assets: Assets) -> dict[str, dict[str, str]]:
    """List the pictures of screens for the manifest by name: every PNG in pictures/, with its size from its header."""
    return {
        path.removeprefix("pictures/").removesuffix(".png"): {
            "src": assets.url(path), "sizes": _size_of(asset), "type": "image/png", "form_factor": "narrow",
        }
        for path, asset in assets.files.items() if path.startswith("pictures/")
    }  # fmt: skip


def _size_of(png: Asset) -> str:
    width, height = struct.unpack(">II", png.body[PNG_SIZE])
    return f"{width}x{height}"


def carried() -> Carried:
    """Return the files that phones keep of this running program."""
    kept: Any = current_app.extensions["halfturn_carried"]
    assert isinstance(kept, Carried)
    return kept


@blueprint.get("/app/")
def app_entry() -> Response:
    """Redirect to the shell in the browser's language."""
    response = redirect(shell_url(chosen_locale()), 302)
    response.headers["Cache-Control"] = "no-store"
    response.vary.add("Accept-Language")
    return response  # type: ignore[return-value] # werkzeug's base class


@blueprint.get("/app/<locale>/")
def shell(locale: str) -> Response:
    """Return a language's shell, with the same bytes for everybody; for a language that is not served any more, lead on."""
    return _page(shell_url(locale)) if locale in carried().locales else app_entry()


@blueprint.get("/app/<locale>/manifest.webmanifest")
def manifest(locale: str) -> Response:
    """Return a language's manifest."""
    return _page(manifest_url(locale))


@blueprint.get("/app/service_worker.js")
def service_worker() -> Response:
    """Return the service worker; the browser asks for it each time, since its address is fixed."""
    return as_asset(carried().worker, ASK_FIRST)


@blueprint.get("/assets/<mark>/<path:path>")
def asset(mark: str, path: str) -> Response:
    """Return the file whose path and hash are in the address; else 404, so that a browser never takes a page for a script."""
    found = carried().assets.at(mark, path) or carried().pages.get(f"/assets/{mark}/{path}")
    if found is None:
        abort(404)
    return as_asset(found, FOREVER)


def _page(url: str) -> Response:
    page = carried().pages.get(url)
    if page is None:
        abort(404)
    return as_asset(page, ASK_FIRST)


def install(app: Any, assets: Assets) -> None:
    """Give the assets to an application: for the routes above, and as `asset()` in templates."""
    app.extensions["halfturn_carried"] = Carried(assets, app.extensions["halfturn"].settings.locales)
    app.jinja_env.globals["asset"] = assets.url

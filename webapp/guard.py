"""What stands before and behind every request: no change from another site, one set of headers, compression, errors in words.

Knows requests and settings; no room's business.
"""

import gzip
import logging

import brotli
from flask import Flask, Response, current_app, render_template, request
from werkzeug.exceptions import HTTPException, InternalServerError, RequestEntityTooLarge, SecurityError
from werkzeug.routing import IntegerConverter

from webapp.client.api import too_large
from webapp.client.assets import SMALLEST_COMPRESSED, WORTH_COMPRESSING
from webapp.client.http_json import RefusedError, refusal
from webapp.client.pages import chosen_locale
from webapp.config import Settings
from webapp.records.database import StorageError, is_of_storage
from webapp.records.faults import RecordsError
from webapp.words import words_for
from webapp.words.answers import answer
from webapp.words.upkeep import fault_of_records

_log = logging.getLogger(__name__)

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
OWN_SITES = frozenset({"same-origin", "none"})
CONTENT_SECURITY_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self';"
    " worker-src 'self'; manifest-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    # Not "no-referrer": forms sent over TLS are checked by their referrer too.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=(),"
    " screen-wake-lock=(self), autoplay=(self)",
}
STRICT_TRANSPORT = "max-age=31536000"
CODES = {400: "unreadable", 404: "not_found", 405: "not_allowed"}
# What a person at a page is told otherwise than a phone.
ON_PAGES = {
    "too_large": "page_too_large",
    "failed": "page_failed",
    "not_found": "page_not_found",
    "not_allowed": "unreadable",
}
SERVER_FAULTS = 500


class NumberConverter(IntegerConverter):
    """A whole number in a path that fits the records; a longer one is at no address."""

    regex = r"\d{1,15}"


def install(app: Flask) -> None:
    """Put the guard round an application, before its addresses are made."""
    app.url_map.converters["int"] = NumberConverter
    app.before_request(refuse_other_sites)
    app.after_request(label)
    app.after_request(compress)
    app.register_error_handler(RefusedError, refused)
    app.register_error_handler(HTTPException, failed)
    app.register_error_handler(RecordsError, unready)
    app.register_error_handler(StorageError, unready)


def _settings() -> Settings:
    found = current_app.extensions["halfturn"].settings
    assert isinstance(found, Settings)
    return found


def refuse_other_sites() -> None:
    """Let no page of another site change anything, whatever cookies come with its request.

    Raises:
        RefusedError: 403, unless the browser says that one of our own pages asks, or the person.
    """
    if request.method in SAFE_METHODS:
        return
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    is_own = origin == _settings().origin if site is None else site in OWN_SITES
    if not is_own:
        raise RefusedError(403, "from_elsewhere")


def label(response: Response) -> Response:
    """Put the security headers on an answer; every answer has them, errors too."""
    response.headers.update(HEADERS)
    if _settings().is_secure:
        response.headers["Strict-Transport-Security"] = STRICT_TRANSPORT
    return response


def _by_brotli(body: bytes) -> bytes:
    small: bytes = brotli.compress(body, quality=4)
    return small


def _by_gzip(body: bytes) -> bytes:
    return gzip.compress(body, 5, mtime=0)


# Quick rather than small, since each answer is compressed anew.
COMPRESSORS = {"br": _by_brotli, "gzip": _by_gzip}


def compress(response: Response) -> Response:
    """Compress a text where the browser asks for it; assets come compressed.

    Nothing that another site's page leads to is compressed. The length of a compressed page tells of its secrets to who
    may choose a part of the page, send a person there again and again, and watch the line (breachattack.com, 2013).
    """
    if (response.mimetype or "").startswith(WORTH_COMPRESSING) and "Content-Encoding" not in response.headers:
        response.vary.add("Accept-Encoding")
        coding = request.accept_encodings.best_match([*COMPRESSORS, "identity"], "identity")
        is_ours = request.headers.get("Sec-Fetch-Site", "none") in OWN_SITES
        body = response.get_data()
        if coding in COMPRESSORS and is_ours and len(body) >= SMALLEST_COMPRESSED:
            response.set_data(COMPRESSORS[coding](body))
            response.headers["Content-Encoding"] = coding
    return response


def refused(error: RefusedError) -> Response:
    """Answer a refused request: as JSON to the phone, as a page to a person."""
    if request.path.startswith("/api/"):
        return refusal(error, chosen_locale())
    sentence = answer(ON_PAGES.get(error.code, error.code), chosen_locale(), **error.gaps)
    is_desk = request.path.startswith("/practice")
    page = render_template("outside/error.html", locale=chosen_locale(), sentence=sentence, is_desk=is_desk)
    response = Response(page, status=error.status, mimetype="text/html")
    response.headers["Cache-Control"] = "no-store"
    return response


def failed(error: HTTPException) -> Response:
    """Answer what Flask could not: the same words and the same shape as a refusal."""
    if isinstance(error, RequestEntityTooLarge):
        return refused(too_large())
    if isinstance(error, SecurityError):
        return refused(RefusedError(400, "wrong_host", origin=_settings().origin))
    status = error.code or SERVER_FAULTS
    if status < 400 or error.response is not None:  # noqa: PLR2004 - HTTP's own border
        return error.get_response()  # type: ignore[return-value] # werkzeug's base class
    if isinstance(error, InternalServerError):
        _log.error("a request failed: %s %s", request.method, request.path)
    return refused(RefusedError(status, CODES.get(status, "failed" if status >= SERVER_FAULTS else "unreadable")))


def unready(error: Exception) -> Response:
    """Answer while nothing can be kept: the disk is full, the file damaged, gone or replaced. Phones try again.

    Raises:
        Exception: What is the program's own fault.
    """
    if isinstance(error, StorageError) and not is_of_storage(error):
        raise error
    told = fault_of_records(words_for(), error.code, error.gaps) if isinstance(error, RecordsError) else error
    _log.error("%s %s was refused: %s", request.method, request.path, told)
    return refused(RefusedError(503, "nothing_kept"))

"""Checks before and work after every request: refuse changes from other sites, set headers, compress, answer errors in words.

Knows requests and settings, but nothing of what the rooms do.
"""

import gzip
import logging

import brotli
from flask import Flask, Response, current_app, render_template, request
from werkzeug.exceptions import HTTPException, InternalServerError, RequestEntityTooLarge, SecurityError
from werkzeug.routing import IntegerConverter
from werkzeug.wrappers import Response as BaseResponse

from webapp.client.api import too_large
from webapp.client.assets import SMALLEST_COMPRESSED, WORTH_COMPRESSING
from webapp.client.http_json import RefusedError, refusal
from webapp.client.pages import chosen_locale
from webapp.config import Settings
from webapp.practice import broken_log, desk
from webapp.records.database import StorageError, is_of_storage
from webapp.records.faults import RecordsError
from webapp.words import words_for
from webapp.words.answers import answer
from webapp.words.upkeep import fault_of_records

_log = logging.getLogger(__name__)

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
OWN_SITES = frozenset({"same-origin", "none"})
CONTENT_SECURITY_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data:; connect-src 'self';"
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
# Codes whose sentence on a page differs from the sentence for a phone.
ON_PAGES = {
    "too_large": "page_too_large",
    "failed": "page_failed",
    "not_found": "page_not_found",
    "not_allowed": "unreadable",
}
SERVER_FAULTS = 500


class NumberConverter(IntegerConverter):
    """A whole number in a path, short enough for the database; a path with a longer number does not exist."""

    regex = r"\d{1,15}"


def install(app: Flask) -> None:
    """Install the guard in an application; this must be done before the routes are added."""
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
    """Refuse a request from another site's page that could change something, whatever cookies the request has.

    Raises:
        RefusedError: 403, unless the browser says that the request comes from our own page or from the user directly.
    """
    if request.method in SAFE_METHODS:
        return
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    is_own = origin == _settings().origin if site is None else site in OWN_SITES
    if not is_own:
        raise RefusedError(403, "from_elsewhere")


def label(response: Response) -> Response:
    """Set the security headers on every answer, errors included."""
    response.headers.update(HEADERS)
    if _settings().is_secure:
        response.headers["Strict-Transport-Security"] = STRICT_TRANSPORT
    return response


def _by_brotli(body: bytes) -> bytes:
    small: bytes = brotli.compress(body, quality=4)
    return small


def _by_gzip(body: bytes) -> bytes:
    return gzip.compress(body, 5, mtime=0)


# Fast rather than small, since each answer is compressed anew.
COMPRESSORS = {"br": _by_brotli, "gzip": _by_gzip}


def compress(response: Response) -> Response:
    """Compress a text if the browser accepts that; assets are compressed already.

    An answer to a request that comes from another site's page is never compressed. Otherwise an attacker who can choose a
    part of the page, send a person there many times, and watch the lengths on the network could guess the secrets in the
    page (BREACH, breachattack.com, 2013).
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
    """Answer a refused request: with JSON for a phone, with a page for a person."""
    if request.path.startswith("/api/"):
        return refusal(error, chosen_locale())
    is_desk = request.path.startswith("/practice")
    locale = desk.locale() if is_desk else chosen_locale()
    sentence = answer(ON_PAGES.get(error.code, error.code), locale, **error.gaps)
    page = render_template("outside/error.html", locale=locale, sentence=sentence, is_desk=is_desk)
    response = Response(page, status=error.status, mimetype="text/html")
    response.headers["Cache-Control"] = "no-store"
    return response


def failed(error: HTTPException) -> BaseResponse:
    """Answer an HTTP error of Flask with the same words and in the same shape as a refusal."""
    if isinstance(error, RequestEntityTooLarge):
        return refused(too_large())
    if isinstance(error, SecurityError):
        return refused(RefusedError(400, "wrong_host", origin=_settings().origin))
    status = error.code or SERVER_FAULTS
    if status < 400 or error.response is not None:  # noqa: PLR2004 - HTTP's own border
        return error.get_response()
    if isinstance(error, InternalServerError):
        _log.error("a request failed: %s %s", request.method, request.path)
        if page := broken_log.answer_to_fault():
            return page
    return refused(RefusedError(status, CODES.get(status, "failed" if status >= SERVER_FAULTS else "unreadable")))


def unready(error: Exception) -> Response:
    """Answer 503 while nothing can be stored: the disk is full, or the file is damaged, gone or replaced. Phones retry.

    Raises:
        Exception: The error itself, if it is a fault of the program.
    """
    if isinstance(error, StorageError) and not is_of_storage(error):
        raise error
    reason = fault_of_records(words_for(), error.code, error.gaps) if isinstance(error, RecordsError) else error
    _log.error("%s %s was refused: %s", request.method, request.path, reason)
    return refused(RefusedError(503, "nothing_kept"))

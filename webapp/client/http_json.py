"""Requests and responses as bytes: compressed assets, JSON by msgspec, errors as JSON with a code.

Knows no records and no rules.
"""

import json
from typing import TypeVar

import msgspec
from flask import Response, request

from webapp.client.assets import Asset
from webapp.wire.sync import Refusal, Refused
from webapp.words.answers import answer

Shape = TypeVar("Shape")


class RefusedError(Exception):
    """A refused request: the HTTP status, a stable code, and the values for the gaps of its sentence."""

    def __init__(self, status: int, code: str, **gaps: object) -> None:
        super().__init__(code)
        self.status, self.code, self.gaps = status, code, gaps


# The statuses after which a retry can help.
AGAIN = frozenset({429, 500, 503})


def refusal(error: RefusedError, locale: str) -> Response:
    """Return the JSON answer to a refused request: its code, a sentence, and whether a retry can help."""
    again = error.status in AGAIN
    message = answer(error.code, locale, **error.gaps)
    response = as_json(Refused(error=Refusal(code=error.code, message=message, again=again)), error.status)
    if "seconds" in error.gaps:
        response.headers["Retry-After"] = str(error.gaps["seconds"])
    return response


def as_json(value: object, status: int = 200) -> Response:
    """Return a JSON response that caches must not keep."""
    response = Response(msgspec.json.encode(value), status=status, mimetype="application/json")
    response.headers["Cache-Control"] = "no-store"
    return response


def as_asset(asset: Asset, cache_control: str) -> Response:
    """Return a response with a file's bytes, or 304 if the browser has them already."""
    coding = request.accept_encodings.best_match([*asset.compressed, "identity"], "identity")
    response = Response(asset.compressed.get(coding, asset.body), mimetype=asset.mimetype)
    if coding in asset.compressed:
        response.headers["Content-Encoding"] = coding
    response.headers["Cache-Control"] = cache_control
    response.vary.add("Accept-Encoding")
    response.set_etag(asset.sha256, weak=True)
    response.make_conditional(request)
    return response


def read_json(shape: type[Shape]) -> Shape:
    """Read the request's JSON.

    Raises:
        RefusedError: 415 for another content type, 400 for JSON that is broken or has another shape.
    """
    if request.mimetype != "application/json":
        raise RefusedError(415, "not_json", type=request.mimetype or "-")
    body = request.get_data()
    try:
        return msgspec.json.decode(body, type=shape)
    except msgspec.ValidationError as error:
        raise RefusedError(400, "bad_request", what=str(error)) from error
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return _read_mended(body, shape)


def _read_mended(body: bytes, shape: type[Shape]) -> Shape:
    """Read JSON that contains half of a surrogate pair, as when a script cut a text inside an emoji.

    The half becomes "?". Otherwise one such text would make the whole request unreadable.
    """
    try:
        mended = json.dumps(json.loads(body), ensure_ascii=False).encode("utf-8", "replace")
        return msgspec.json.decode(mended, type=shape)
    except (msgspec.DecodeError, ValueError, RecursionError) as error:
        raise RefusedError(400, "bad_request", what=str(error)) from error

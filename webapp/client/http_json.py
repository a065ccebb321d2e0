"""Bytes in and bytes out: compressed assets, JSON by msgspec, and errors as JSON with a code.

Knows requests and responses; no record and no rule.
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
    """A request that is refused: HTTP status, stable code, and the values that its sentence names."""

    def __init__(self, status: int, code: str, **gaps: object) -> None:
        super().__init__(code)
        self.status, self.code, self.gaps = status, code, gaps


# Trying the same thing later can help with these, and with no other.
AGAIN = frozenset({429, 500, 503})


def refusal(error: RefusedError, locale: str) -> Response:
    """Answer a refused request with its code, a sentence, and whether trying again can help."""
    again = error.status in AGAIN
    message = answer(error.code, locale, **error.gaps)
    response = as_json(Refused(error=Refusal(code=error.code, message=message, again=again)), error.status)
    if "seconds" in error.gaps:
        response.headers["Retry-After"] = str(error.gaps["seconds"])
    return response


def as_json(value: object, status: int = 200) -> Response:
    """Answer with JSON that no cache keeps."""
    response = Response(msgspec.json.encode(value), status=status, mimetype="application/json")
    response.headers["Cache-Control"] = "no-store"
    return response


def as_asset(asset: Asset, cache_control: str) -> Response:
    """Answer with a file's bytes, or with 304 where the browser has them."""
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
        RefusedError: 415 for another content type, 400 for JSON that is broken or of another shape.
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
    """Read JSON with half of a two-part character in it, as when a script cut a text in the middle of one.

    That half becomes "?", so that one such text does not keep all the others from being read.
    """
    try:
        mended = json.dumps(json.loads(body), ensure_ascii=False).encode("utf-8", "replace")
        return msgspec.json.decode(mended, type=shape)
    except (msgspec.DecodeError, ValueError, RecursionError) as error:
        raise RefusedError(400, "bad_request", what=str(error)) from error

"""Converts a request from an ASGI scope to a WSGI environment (PEP 3333).

Knows both forms; no socket and no thread.
"""

import sys
from collections.abc import Iterable
from typing import Any, BinaryIO
from urllib.parse import unquote_to_bytes

Scope = dict[str, Any]
# The front has read the whole body and knows its length, so these headers are left out.
FRAMING = frozenset({b"content-length", b"transfer-encoding"})


def environ_of(scope: Scope, body: BinaryIO, length: int) -> dict[str, Any]:
    """Return the WSGI environment of a request.

    Args:
        scope: The HTTP scope of ASGI 3.
        body: The body, positioned at its start.
        length: The length of the body in bytes, counted or from the request's head.
    """
    server, port = scope["server"] or ("localhost", 80)
    return {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(scope["raw_path"]).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_NAME": server,
        "SERVER_PORT": str(port),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": scope["client"][0] if scope["client"] else "",
        "CONTENT_LENGTH": str(length),
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": body,
        "wsgi.input_terminated": True,
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
        **_headers(scope["headers"]),
    }


def _headers(pairs: Iterable[tuple[bytes, bytes]]) -> dict[str, str]:
    found: dict[str, str] = {}
    for name, value in pairs:
        # In WSGI X_Forwarded_For has the same key as X-Forwarded-For, and a proxy may pass it on from a stranger.
        if name in FRAMING or b"_" in name:
            continue
        key = name.decode("latin-1").upper().replace("-", "_")
        key = key if key == "CONTENT_TYPE" else f"HTTP_{key}"
        text = value.decode("latin-1")
        between = "; " if key == "HTTP_COOKIE" else ","
        found[key] = f"{found[key]}{between}{text}" if key in found else text
    return found

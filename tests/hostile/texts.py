"""Unexpected input of people and programs: texts for any field, and JSON that is broken or strange.

All input comes from a seed, so that a failure can be repeated.
"""

import json
import random
from typing import Any
from urllib.parse import quote_from_bytes

TEXTS = (
    "", " ", "\t", "0", "-1", "1.5", "1,5", "½", "1e999", "-1e999", "nan", "inf", "1_000", "٣", "９", "²",
    "2147483648", "9223372036854775807", "9223372036854775808", "-9223372036854775809", "9" * 400, "9" * 5000, "800000",
    "true", "null", "[]", "{}", "None", "undefined", "x" * 300, "x" * 20_000, "é" * 5000,
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "{{ 7 * 7 }}", "%s%n%(x)s", "'; DROP TABLE clients; --",
    "\0", "a\0b", "\r\nX-Other: 1", "/practice\r\nX-Other: 1", "/practice\n", "\x1b[31m", "\x7f", "\u2028", "\u202e", "\ufeff", "\U0001f9a9",
    "\ud800", "a\udfff", "//elsewhere.example", "javascript:alert(1)", "../../etc", "%2e%2e", "%00", "%ff",
    "0001-01-01", "9999-12-31", "10000-01-01", "2026-02-30", "2026-03-01T00:00:00Z", "-2026-01-01", "now",
    "kg", "st", "1 kg; 2 lb", "; ; ;", "1;" * 3000, "5@full", "@", "99@full", "1@1@1", "right", "both", "yes", "no",
)  # fmt: skip
VALUES: tuple[Any, ...] = (
    None, True, False, 0, -1, 1.5, 1e308, -(2**63) - 1, 2**63, 2**70, 10**400, [], {}, [[]], {"": {}}, *TEXTS,
)  # fmt: skip
DEEP = 3000


def as_bytes(text: str) -> bytes:
    """Return the text in UTF-8; half of a surrogate pair stays half."""
    return text.encode("utf-8", "surrogatepass")


def urlencoded(entries: list[tuple[str, str]]) -> bytes:
    """Return a form's body as a browser sends it, for any text."""
    return "&".join(
        f"{quote_from_bytes(as_bytes(name), safe='')}={quote_from_bytes(as_bytes(value), safe='')}"
        for name, value in entries
    ).encode()


def places(value: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the path to every part of a JSON value, including the whole value."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [at, *(found for key, each in inner for found in places(each, (*at, key)))]


def changed(value: Any, at: tuple[Any, ...], dice: random.Random) -> Any:
    """Return the value with the part at a path removed, doubled or replaced."""
    if not at:
        return dice.choice(VALUES)
    copy = dict(value) if isinstance(value, dict) else list(value)
    key = at[0]
    if len(at) > 1:
        copy[key] = changed(copy[key], at[1:], dice)
    elif dice.random() < 0.15:
        del copy[key]
    elif isinstance(copy, list) and dice.random() < 0.15:
        copy.append(copy[key])
    else:
        copy[key] = dice.choice(VALUES)
    return copy


def json_body(value: Any, dice: random.Random) -> bytes:
    """Return a malformed body: the value changed in one to three parts, or with spoilt bytes."""
    for _ in range(dice.randint(1, 3)):
        value = changed(value, dice.choice(places(value)), dice)
    body = json.dumps(value).encode()
    return _spoilt(body, dice) if dice.random() < 0.3 else body


def _spoilt(body: bytes, dice: random.Random) -> bytes:
    cut, end = sorted(dice.randrange(len(body) + 1) for _ in range(2))
    noise = bytes(dice.randrange(256) for _ in range(dice.randint(1, 6)))
    return dice.choice(
        (
            body[:cut],
            body[:cut] + noise + body[cut:],
            body[:cut] + body[end:],
            body + body,
            b"[" * DEEP + body,
            b'{"events":' * DEEP,
            b"\xef\xbb\xbf" + body,
            body.decode("utf-8", "replace").encode("utf-16"),
            body.replace(b'"', b'"\\ud800', 1),
            body.replace(b":", b":1e999,", 1),
            b"\0" * len(body),
            b"",
        )
    )

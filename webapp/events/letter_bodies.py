"""Checks of the bodies of letters, and of what says that letters were read; `codec` is built from these."""

import re
from typing import Any

from webapp.events import values

LETTER_LENGTH = 1000
"""Characters of a letter and of its answer at most: code points, counted alike on the phone (own choice)."""
_MOST_LETTERS = 1000
_NAME_LENGTH = 80
_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z")


def _written(body: dict[str, Any]) -> None:
    values.filled(body.get("text"), "body.text", LETTER_LENGTH)


def _answered(body: dict[str, Any]) -> None:
    _written(body)
    values.text(body.get("by"), "body.by", _NAME_LENGTH)


def _named(body: dict[str, Any]) -> None:
    for letter in values.list_of(body.get("letters"), "body.letters", _MOST_LETTERS):
        values.matching(letter, "body.letters", _UUID, "the id of an entry")


CHECKS = {"letter_written": _written, "letter_answered": _answered, "letter_seen": _named, "letter_read": _named}
"""By kind, what raises an EventError for a fault."""

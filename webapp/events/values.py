"""Checks of single values from a JSON object; an error names the field. The checks of `codec` are built from these."""

import re
from datetime import date, datetime
from typing import Any

from webapp.events.kinds import EventError

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")


def fault(code: str, field: str, value: object, rule: str) -> EventError:
    """Return the error that names a field, its value and its rule."""
    return EventError(code, field, value, rule)


def whole(value: object, field: str, low: int, high: int) -> int:
    """Take a whole number between two bounds, or raise an EventError."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise fault("not_in_range", field, value, f"a whole number from {low} to {high}")
    return value


def text(value: object, field: str, most: int) -> str:
    """Take a text of at most so many characters, or raise an EventError."""
    if not isinstance(value, str) or len(value) > most:
        raise fault("not_a_text", field, value, f"a text of at most {most} characters")
    return value


def filled(value: object, field: str, most: int) -> str:
    """Take a text of 1 to `most` characters, or raise an EventError."""
    if not text(value, field, most):
        raise fault("not_a_text", field, value, f"a text of 1 to {most} characters")
    return str(value)


def one_of(value: object, field: str, allowed: tuple[str, ...]) -> str:
    """Take one of the allowed words, or raise an EventError."""
    if not isinstance(value, str) or value not in allowed:
        raise fault("not_one_of", field, value, "one of " + ", ".join(word or '""' for word in allowed))
    return value


def truth(value: object, field: str) -> bool:
    """Take true or false, or raise an EventError."""
    if not isinstance(value, bool):
        raise fault("not_a_truth", field, value, "true or false")
    return value


def day(value: object, field: str) -> date:
    """Take a day written YYYY-MM-DD, or raise an EventError."""
    try:
        if isinstance(value, str) and _DAY.match(value):
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise fault("not_a_day", field, value, "a day written YYYY-MM-DD")


def matching(value: object, field: str, pattern: re.Pattern[str], rule: str) -> str:
    """Take a text that a pattern matches, or raise an EventError."""
    if not isinstance(value, str) or not pattern.match(value):
        raise fault("wrong_form", field, value, rule)
    return value


def instant(value: object, field: str) -> str:
    """Take an instant with its offset, or raise an EventError."""
    try:
        if isinstance(value, str) and datetime.fromisoformat(value).tzinfo is not None:
            return value
    except ValueError:
        pass
    raise fault("not_an_instant", field, value, "an instant with its offset, such as 2026-05-14T07:12:03Z")


def object_of(value: object, field: str) -> dict[str, Any]:
    """Take an object of named fields, or raise an EventError."""
    # JSON has no other names than texts.
    if not isinstance(value, dict):
        raise fault("not_an_object", field, value, "an object of named fields")
    return value


def number(value: object, field: str, most: float) -> float:
    """Take a number from 0 to `most`, or raise an EventError."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= most:
        raise fault("not_in_range", field, value, f"a number from 0 to {most}")
    return value


def list_of(value: object, field: str, most: int) -> list[Any]:
    """Take a list of at most so many entries, or raise an EventError."""
    if not isinstance(value, list) or len(value) > most:
        raise fault("not_a_list", field, value, f"a list of at most {most}")
    return value

"""From a JSON object to an event and back; every fault is named.

Fields that are not known are kept, and so are kinds: an old server must not lose what a
newer phone has to say.
"""

import re
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from webapp.events import kinds
from webapp.events.kinds import Event, EventError

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z")
_ZONE = re.compile(r"(?=.{1,64}\Z)[A-Za-z][A-Za-z0-9_+\-]*(/[A-Za-z0-9_+\-]+){0,2}\Z")
_KIND = re.compile(r"[a-z][a-z_]{0,39}\Z")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}\Z")
_NOTE_LENGTH = 280
_LETTER_LENGTH = 4000
_MOST_EASED = 200
_MOST_COVERED = 10_000
_MOST_SECONDS = 86_400
_HOURS_A_DAY = 24
_MOST = 1_000_000_000


def _fail(code: str, field: str, value: object, rule: str) -> EventError:
    return EventError(code, field, value, rule)


def whole(value: object, field: str, low: int, high: int) -> int:
    """Take a whole number between two bounds, or raise an EventError."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise _fail("not_in_range", field, value, f"a whole number from {low} to {high}")
    return value


def text(value: object, field: str, most: int) -> str:
    """Take a text of at most so many characters, or raise an EventError."""
    if not isinstance(value, str) or len(value) > most:
        raise _fail("not_a_text", field, value, f"a text of at most {most} characters")
    return value


def one_of(value: object, field: str, allowed: tuple[str, ...]) -> str:
    """Take one of the allowed words, or raise an EventError."""
    if not isinstance(value, str) or value not in allowed:
        raise _fail("not_one_of", field, value, "one of " + ", ".join(word or '""' for word in allowed))
    return value


def truth(value: object, field: str) -> bool:
    """Take true or false, or raise an EventError."""
    if not isinstance(value, bool):
        raise _fail("not_a_truth", field, value, "true or false")
    return value


def day(value: object, field: str) -> date:
    """Take a day written YYYY-MM-DD, or raise an EventError."""
    try:
        if isinstance(value, str) and _DAY.match(value):
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise _fail("not_a_day", field, value, "a day written YYYY-MM-DD")


def _matching(value: object, field: str, pattern: re.Pattern[str], rule: str) -> str:
    if not isinstance(value, str) or not pattern.match(value):
        raise _fail("wrong_form", field, value, rule)
    return value


def _instant(value: object, field: str) -> str:
    try:
        if isinstance(value, str) and datetime.fromisoformat(value).tzinfo is not None:
            return value
    except ValueError:
        pass
    raise _fail("not_an_instant", field, value, "an instant with its offset, such as 2026-05-14T07:12:03Z")


def _object(value: object, field: str) -> dict[str, Any]:
    if not isinstance(value, dict) or not all(isinstance(key, str) for key in value):
        raise _fail("not_an_object", field, value, "an object of named fields")
    return value


def _by_arm(body: Mapping[str, Any], check: Callable[[dict[str, Any], str], None]) -> None:
    arms = _object(body.get("arms"), "body.arms")
    if not arms:
        raise _fail("arms_missing", "body.arms", arms, "at least one of right, left")
    for arm, told in arms.items():
        one_of(arm, "body.arms", kinds.ARMS)
        check(_object(told, f"body.arms.{arm}"), f"body.arms.{arm}")


def _rated(told: dict[str, Any], field: str) -> None:
    if told.get("worst") is not None:
        whole(told["worst"], f"{field}.worst", 0, 10)
    truth(told.get("sharp", False), f"{field}.sharp")


def _list(value: object, field: str, most: int) -> list[Any]:
    if not isinstance(value, list) or len(value) > most:
        raise _fail("not_a_list", field, value, f"a list of at most {most}")
    return value


def _eased(body: Mapping[str, Any]) -> None:
    for place, told in enumerate(_list(body.get("eased", []), "body.eased", _MOST_EASED)):
        field = f"body.eased.{place}"
        entry = _object(told, field)
        whole(entry.get("step"), f"{field}.step", 0, 1000)
        one_of(entry.get("what"), f"{field}.what", kinds.EASINGS)
        text(entry.get("movement", ""), f"{field}.movement", 80)


def _sharp_told(told: dict[str, Any], field: str) -> None:
    one_of(told.get("where"), f"{field}.where", kinds.SHARP_PLACES)
    one_of(told.get("like"), f"{field}.like", kinds.SHARP_FEELS)
    truth(told.get("sign"), f"{field}.sign")


def _session_finished(body: dict[str, Any]) -> None:
    whole(body.get("routine"), "body.routine", 1, _MOST)
    _by_arm(body, _rated)
    for name in ("asked_steps", "done_steps"):
        whole(body.get(name), f"body.{name}", 0, 1000)
    whole(body.get("active_seconds"), "body.active_seconds", 0, _MOST_SECONDS)
    one_of(body.get("ended"), "body.ended", kinds.ENDINGS)
    one_of(body.get("why", ""), "body.why", kinds.WHYS)
    text(body.get("note", ""), "body.note", _NOTE_LENGTH)
    for way in _list(body.get("ways", []), "body.ways", len(kinds.WAYS)):
        one_of(way, "body.ways", kinds.WAYS)
    _eased(body)
    if "sharp_told" in body:
        _sharp_told(_object(body["sharp_told"], "body.sharp_told"), "body.sharp_told")


def _morning(told: dict[str, Any], field: str) -> None:
    whole(told.get("pain"), f"{field}.pain", 0, 10)
    truth(told.get("sharp", False), f"{field}.sharp")


def _exposure_noted(body: dict[str, Any]) -> None:
    one_of(body.get("what"), "body.what", kinds.EXPOSURES)
    hours = body.get("hours")
    if hours is not None and (
        isinstance(hours, bool) or not isinstance(hours, (int, float)) or not 0 <= hours <= _HOURS_A_DAY
    ):
        raise _fail("not_in_range", "body.hours", hours, "hours from 0 to 24, or nothing")


def _habit_noted(body: dict[str, Any]) -> None:
    text(body.get("habit"), "body.habit", 80)
    truth(body.get("kept"), "body.kept")


def _letter_written(body: dict[str, Any]) -> None:
    text(body.get("text"), "body.text", _LETTER_LENGTH)


def _routine_received(body: dict[str, Any]) -> None:
    whole(body.get("version"), "body.version", 1, _MOST)
    text(body.get("bundle", ""), "body.bundle", 128)


def _warning_raised(body: dict[str, Any]) -> None:
    text(body.get("sign"), "body.sign", 80)
    arms = body.get("arms")
    if not isinstance(arms, list) or not arms:
        raise _fail("arms_missing", "body.arms", arms, "a list of right, left")
    for arm in arms:
        one_of(arm, "body.arms", kinds.ARMS)


def _released(told: dict[str, Any], field: str) -> None:
    whole(told.get("rung"), f"{field}.rung", 1, 1000)
    for covered in _list(told.get("covers"), f"{field}.covers", _MOST_COVERED):
        _matching(covered, f"{field}.covers", _UUID, "the id of an entry")


def _entry_corrected(body: dict[str, Any]) -> None:
    _matching(body.get("replaces"), "body.replaces", _UUID, "the id of the entry it replaces")
    if body.get("body") is not None:
        _object(body["body"], "body.body")


_CHECKS: dict[str, Callable[[dict[str, Any]], None]] = {
    "session_finished": _session_finished,
    "morning_reported": lambda body: _by_arm(body, _morning),
    "exposure_noted": _exposure_noted,
    "habit_noted": _habit_noted,
    "letter_written": _letter_written,
    "routine_received": _routine_received,
    "warning_raised": _warning_raised,
    "entry_corrected": _entry_corrected,
    "hold_released": lambda body: _by_arm(body, _released),
}


def check_body(kind: str, body: dict[str, Any]) -> None:
    """Check a body against its kind; a kind that is not known passes. Raises an EventError."""
    if kind in _CHECKS:
        _CHECKS[kind](body)


def decode(told: object) -> Event:
    """Take an event from a JSON object.

    Args:
        told: What JSON gave.

    Returns:
        The event; its body keeps fields that are not known.

    Raises:
        EventError: The first fault met, with code, field, value and rule.
    """
    given = _object(told, "event")
    event = Event(
        id=_matching(given.get("id"), "id", _UUID, "a UUID in lower case"),
        kind=_matching(given.get("kind"), "kind", _KIND, "a word of at most 40 small letters and underscores"),
        v=whole(given.get("v", kinds.VERSION), "v", 1, 1000),
        on=day(given.get("on"), "on"),
        at=_instant(given.get("at"), "at"),
        zone=_matching(given.get("zone"), "zone", _ZONE, "the name of a time zone, such as Europe/Lisbon"),
        seq=whole(given.get("seq"), "seq", 1, _MOST),
        body=_object(given.get("body"), "body"),
    )
    check_body(event.kind, event.body)
    return event


def encode(event: Event) -> dict[str, Any]:
    """Turn an event into a JSON object; the exact inverse of `decode`."""
    return {
        "id": event.id,
        "kind": event.kind,
        "v": event.v,
        "on": event.on.isoformat(),
        "at": event.at,
        "zone": event.zone,
        "seq": event.seq,
        "body": event.body,
    }

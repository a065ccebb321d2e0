"""Decoding of events from JSON objects, and encoding; an error names the fault.

Unknown fields and unknown kinds are kept, because an old server must not lose what a newer
phone reports.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any

from webapp.events import activities, arriving, course_set, day, kinds, letter_bodies, returning, values
from webapp.events.kinds import Event

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\Z")
_ZONE = re.compile(r"(?=.{1,64}\Z)[A-Za-z][A-Za-z0-9_+\-]*(/[A-Za-z0-9_+\-]+){0,2}\Z")
_KIND = re.compile(r"[a-z][a-z_]{0,39}\Z")
_NOTE_LENGTH = 280
_NAME_LENGTH = 80
_MOST_EASED = 200
_MOST_COVERED = 10_000
_MOST_SETS = 20
_MOST_SESSIONS = 24
_MOST_REPS = 1000
_MOST_LOAD_KG = 50
_WHOLE_SHARE = 1000
_MOST_SECONDS = 86_400
_MOST = 1_000_000_000


def _by_arm(body: Mapping[str, Any], check: Callable[[dict[str, Any], str], None]) -> None:
    arms = values.object_of(body.get("arms"), "body.arms")
    if not arms:
        raise values.fault("arms_missing", "body.arms", arms, "at least one of right, left")
    for arm, report in arms.items():
        values.one_of(arm, "body.arms", kinds.ARMS)
        check(values.object_of(report, f"body.arms.{arm}"), f"body.arms.{arm}")


def _rated(report: dict[str, Any], field: str) -> None:
    if report.get("worst") is not None:
        values.whole(report["worst"], f"{field}.worst", 0, 10)
    values.truth(report.get("sharp", False), f"{field}.sharp")
    for index, entry in enumerate(values.list_of(report.get("sets"), f"{field}.sets", _MOST_SETS)):
        _played(values.object_of(entry, f"{field}.sets.{index}"), f"{field}.sets.{index}")
    if "dose" in report:
        _dose(values.object_of(report["dose"], f"{field}.dose"), f"{field}.dose")


def _dose(dose: dict[str, Any], field: str) -> None:
    values.whole(dose.get("sessions"), f"{field}.sessions", 0, _MOST_SESSIONS)
    for index, entry in enumerate(values.list_of(dose.get("sets"), f"{field}.sets", _MOST_SETS)):
        _set(values.object_of(entry, f"{field}.sets.{index}"), f"{field}.sets.{index}")


def _played(entry: dict[str, Any], field: str) -> None:
    _set(entry, field)
    values.whole(entry.get("share"), f"{field}.share", 0, _WHOLE_SHARE)


def _set(entry: dict[str, Any], field: str) -> None:
    values.text(entry.get("movement"), f"{field}.movement", 80)
    values.whole(entry.get("reps"), f"{field}.reps", 0, _MOST_REPS)
    values.number(entry.get("load_kg"), f"{field}.load_kg", _MOST_LOAD_KG)
    values.number(entry.get("range"), f"{field}.range", 1)


def _eased(body: Mapping[str, Any]) -> None:
    for index, easing in enumerate(values.list_of(body.get("eased", []), "body.eased", _MOST_EASED)):
        field = f"body.eased.{index}"
        entry = values.object_of(easing, field)
        values.whole(entry.get("step"), f"{field}.step", 0, 1000)
        values.one_of(entry.get("what"), f"{field}.what", kinds.EASINGS)
        values.text(entry.get("movement", ""), f"{field}.movement", 80)


def _sharp_told(answers: dict[str, Any], field: str) -> None:
    values.one_of(answers.get("where"), f"{field}.where", kinds.SHARP_PLACES)
    values.one_of(answers.get("like"), f"{field}.like", kinds.SHARP_FEELS)
    values.truth(answers.get("sign"), f"{field}.sign")


def _session_finished(body: dict[str, Any]) -> None:
    values.whole(body.get("routine"), "body.routine", 1, _MOST)
    _by_arm(body, _rated)
    for name in ("asked_steps", "done_steps"):
        values.whole(body.get(name), f"body.{name}", 0, 1000)
    values.whole(body.get("active_seconds"), "body.active_seconds", 0, _MOST_SECONDS)
    values.one_of(body.get("ended"), "body.ended", kinds.ENDINGS)
    values.one_of(body.get("why", ""), "body.why", kinds.WHYS)
    values.text(body.get("note", ""), "body.note", _NOTE_LENGTH)
    for way in values.list_of(body.get("ways", []), "body.ways", len(kinds.WAYS)):
        values.one_of(way, "body.ways", kinds.WAYS)
    _eased(body)
    if "sharp_told" in body:
        _sharp_told(values.object_of(body["sharp_told"], "body.sharp_told"), "body.sharp_told")


def _morning(report: dict[str, Any], field: str) -> None:
    values.whole(report.get("pain"), f"{field}.pain", 0, 10)
    values.truth(report.get("sharp", False), f"{field}.sharp")
    values.truth(report.get("besides", False), f"{field}.besides")


def _morning_reported(body: dict[str, Any]) -> None:
    _by_arm(body, _morning)
    values.truth(body.get("late", False), "body.late")


def _routine_received(body: dict[str, Any]) -> None:
    values.whole(body.get("version"), "body.version", 1, _MOST)
    values.text(body.get("bundle", ""), "body.bundle", 128)


def _note_read(body: dict[str, Any]) -> None:
    values.whole(body.get("version"), "body.version", 1, _MOST)


def _warning_raised(body: dict[str, Any]) -> None:
    values.text(body.get("sign"), "body.sign", 80)
    arms = body.get("arms")
    if not isinstance(arms, list) or not arms:
        raise values.fault("arms_missing", "body.arms", arms, "a list of right, left")
    for arm in arms:
        values.one_of(arm, "body.arms", kinds.ARMS)
    values.truth(body.get("holds", True), "body.holds")


def _released(release: dict[str, Any], field: str) -> None:
    values.whole(release.get("rung"), f"{field}.rung", 1, 1000)
    if isinstance(release.get("range"), bool) or release.get("range") not in kinds.RANGES:
        raise values.fault("not_one_of", f"{field}.range", release.get("range"), "one of 1, 0.75, 0.5")
    for covered in values.list_of(release.get("covers"), f"{field}.covers", _MOST_COVERED):
        values.matching(covered, f"{field}.covers", _UUID, "the id of an entry")
    values.text(release.get("reason"), f"{field}.reason", _NOTE_LENGTH)
    values.text(release.get("by"), f"{field}.by", _NAME_LENGTH)
    if "seen_by" in release:
        arriving.seen_by(release["seen_by"], f"{field}.seen_by")


def _entry_corrected(body: dict[str, Any]) -> None:
    values.matching(body.get("replaces"), "body.replaces", _UUID, "the id of the entry it replaces")
    if body.get("body") is not None:
        values.object_of(body["body"], "body.body")


_CHECKS: dict[str, Callable[[dict[str, Any]], None]] = {
    "session_finished": _session_finished,
    "morning_reported": _morning_reported,
    "away_noted": day.check_away_noted,
    "exposure_noted": day.check_exposure_noted,
    "habit_noted": day.check_habit_noted,
    **letter_bodies.CHECKS,
    **activities.CHECKS,
    "routine_received": _routine_received,
    "note_read": _note_read,
    "warning_raised": _warning_raised,
    **arriving.CHECKS,
    "entry_corrected": _entry_corrected,
    "hold_released": lambda body: _by_arm(body, _released),
    "habit_chosen": day.check_habit_chosen,
    "course_set": course_set.check,
    **returning.CHECKS,
}


def check_body(kind: str, body: dict[str, Any]) -> None:
    """Check a body against its kind; an unknown kind passes. Raise an EventError for a fault."""
    if kind in _CHECKS:
        _CHECKS[kind](body)


def decode(sent: object) -> Event:
    """Decode an event from a JSON object.

    Args:
        sent: The parsed JSON, of any type.

    Returns:
        The event; its body keeps unknown fields.

    Raises:
        EventError: The first fault, with code, field, value and rule.
    """
    fields = values.object_of(sent, "event")
    event = Event(
        id=values.matching(fields.get("id"), "id", _UUID, "a UUID in lower case"),
        kind=values.matching(fields.get("kind"), "kind", _KIND, "a word of at most 40 small letters and underscores"),
        v=values.whole(fields.get("v", kinds.VERSION), "v", 1, 1000),
        on=values.day(fields.get("on"), "on"),
        at=values.instant(fields.get("at"), "at"),
        zone=values.matching(fields.get("zone"), "zone", _ZONE, "the name of a time zone, such as Europe/Lisbon"),
        seq=values.whole(fields.get("seq"), "seq", 1, _MOST),
        body=values.object_of(fields.get("body"), "body"),
    )
    check_body(event.kind, event.body)
    return event


def encode(event: Event) -> dict[str, Any]:
    """Return an event as a JSON object; the exact inverse of `decode`."""
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

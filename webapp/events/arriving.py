"""Checks of the entries before the first session: the screening, and the intake that a client tells."""

from collections.abc import Callable, Mapping
from typing import Any

from webapp.events import kinds, values

NOTE_LENGTH = 280
NAME_LENGTH = 80
_MOST_WEIGHTS = 12
_MOST_WEIGHT_KG = 50
_MOST_MASS_KG = 300
_MOST_HEIGHT_M = 3
_DAYS_A_WEEK = 7
_AREA_LENGTH = 40


def _screening_answered(body: dict[str, Any]) -> None:
    values.text(body.get("asked_list"), "body.asked_list", 64)
    values.one_of(body.get("reached"), "body.reached", kinds.LEVELS)
    _signs(body)


def _screening_cleared(body: dict[str, Any]) -> None:
    if not _signs(body):
        raise values.fault("not_a_list", "body.signs", [], "at least one sign")
    values.text(body.get("reason"), "body.reason", NOTE_LENGTH)
    values.text(body.get("by"), "body.by", NAME_LENGTH)
    if "seen_by" in body:
        seen_by(body["seen_by"], "body.seen_by")


def _signs(body: Mapping[str, Any]) -> list[Any]:
    signs = values.list_of(body.get("signs"), "body.signs", kinds.MOST_SIGNS)
    for sign in signs:
        values.text(sign, "body.signs", 80)
    return signs


def seen_by(said: object, field: str) -> None:
    """Check who has seen an arm, and when, or raise an EventError."""
    seen = values.object_of(said, field)
    values.one_of(seen.get("role"), f"{field}.role", kinds.SEEN_BY)
    values.day(seen.get("on"), f"{field}.on")


def _intake_told(body: dict[str, Any]) -> None:
    _among(body, "arms", kinds.ARMS)
    _among(body, "places", kinds.PLACES)
    _among(body, "other_care", kinds.OTHER_CARE)
    for name in ("arms", "places"):
        if not body[name]:
            raise values.fault("not_a_list", f"body.{name}", [], "at least one")
    values.whole(body.get("usual"), "body.usual", 0, 10)
    values.whole(body.get("sport_days"), "body.sport_days", 0, _DAYS_A_WEEK)
    for at, activity in enumerate(values.list_of(body.get("activities"), "body.activities", kinds.MOST_ACTIVITIES)):
        entry = values.object_of(activity, f"body.activities.{at}")
        values.text(entry.get("name"), f"body.activities.{at}.name", NAME_LENGTH)
        values.whole(entry.get("rating"), f"body.activities.{at}.rating", 0, 10)
    for weight in values.list_of(body.get("weights_kg"), "body.weights_kg", _MOST_WEIGHTS):
        values.number(weight, "body.weights_kg", _MOST_WEIGHT_KG)
    for name, most in (("mass_kg", _MOST_MASS_KG), ("height_m", _MOST_HEIGHT_M)):
        if name in body:
            values.number(body[name], f"body.{name}", most)


def _among(body: dict[str, Any], name: str, allowed: tuple[str, ...]) -> None:
    for value in values.list_of(body.get(name), f"body.{name}", len(allowed)):
        values.one_of(value, f"body.{name}", allowed)


def _intake_confirmed(body: dict[str, Any]) -> None:
    values.text(body.get("by"), "body.by", NAME_LENGTH)


def _intake_corrected(body: dict[str, Any]) -> None:
    values.filled(body.get("reason"), "body.reason", NOTE_LENGTH)
    values.text(body.get("by"), "body.by", NAME_LENGTH)
    known = (*kinds.INTAKE_SAID, *kinds.INTAKE_PRIVATE)
    changes = values.list_of(body.get("changes"), "body.changes", len(known))
    if not changes:
        raise values.fault("not_a_list", "body.changes", [], "at least one change")
    for at, each in enumerate(changes):
        where = f"body.changes.{at}"
        change = values.object_of(each, where)
        field = values.one_of(change.get("field"), f"{where}.field", known)
        for name in ("was", "now"):
            _value_of_intake(change, field, name, f"{where}.{name}")


def _value_of_intake(change: Mapping[str, Any], field: str, name: str, where: str) -> None:
    value = change.get(name)
    if field in kinds.INTAKE_PRIVATE:
        if name in change:
            raise values.fault("not_known", where, value, "left out: these words are private to the practice")
    elif field == "area":
        values.text(value, where, _AREA_LENGTH)
    elif field == "arms":
        for arm in values.list_of(value, where, len(kinds.ARMS)):
            values.one_of(arm, where, kinds.ARMS)
    elif field == "sex":
        values.one_of(value, where, kinds.SEXES)
    else:
        values.number(value, where, _MOST_MASS_KG if field == "mass_kg" else _MOST_HEIGHT_M)


CHECKS: dict[str, Callable[[dict[str, Any]], None]] = {
    "screening_answered": _screening_answered,
    "screening_cleared": _screening_cleared,
    "intake_told": _intake_told,
    "intake_confirmed": _intake_confirmed,
    "intake_corrected": _intake_corrected,
}
"""By kind."""

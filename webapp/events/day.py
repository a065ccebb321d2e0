"""Checks of what a client tells of a day beside its session, and of the habit that the practice chose."""

import re
from typing import Any

from webapp.events import kinds, returning, values

_CLOCK = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]\Z")
_MINUTES_A_DAY = 1440
_NAME_LENGTH = 80
_ID_LENGTH = 36


def check_away_noted(body: dict[str, Any]) -> None:
    """Check an account of days away; raise an EventError for a fault."""
    first, last = (values.day(body.get(name), f"body.{name}") for name in ("first", "last"))
    if last < first:
        raise values.fault("not_in_range", "body.last", body["last"], "a day that is not before the first")
    values.one_of(body.get("what"), "body.what", kinds.AWAYS)
    for happened in values.list_of(body.get("happened", []), "body.happened", len(kinds.HAPPENED)):
        values.one_of(happened, "body.happened", kinds.HAPPENED)


def check_exposure_noted(body: dict[str, Any]) -> None:
    """Check a mark of another load; raise an EventError for a fault."""
    values.one_of(body.get("what"), "body.what", kinds.EXPOSURES)
    if body.get("minutes") is not None:
        values.whole(body["minutes"], "body.minutes", 0, _MINUTES_A_DAY)
    values.text(body.get("name", ""), "body.name", _NAME_LENGTH)
    values.matching(body.get("begins", "00:00"), "body.begins", _CLOCK, "a time of the day, such as 18:30")
    values.truth(body.get("planned", False), "body.planned")
    returning.check_sport(body)


def check_habit_noted(body: dict[str, Any]) -> None:
    """Check whether a habit was kept; raise an EventError for a fault."""
    values.text(body.get("habit"), "body.habit", 80)
    values.truth(body.get("kept"), "body.kept")
    values.truth(body.get("suits", True), "body.suits")
    values.text(body.get("chosen", ""), "body.chosen", _ID_LENGTH)


def check_habit_chosen(body: dict[str, Any]) -> None:
    """Check the habit that the practice chose; raise an EventError for a fault."""
    values.text(body.get("habit"), "body.habit", 80)
    values.text(body.get("by"), "body.by", _NAME_LENGTH)

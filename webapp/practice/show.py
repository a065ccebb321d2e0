"""How pages write numbers, days, instants, weights and movements; and the values that every page gets."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any

from babel.dates import format_timedelta
from babel.numbers import format_decimal
from flask import g, get_flashed_messages
from flask_wtf.csrf import generate_csrf

from webapp.dosing.figures import FLARED_RATING
from webapp.dosing.responses import SHOWN
from webapp.library.own_movement import slot_of
from webapp.library.shelf import the_shelf
from webapp.practice import desk
from webapp.practice.history import NOTHING_DONE
from webapp.words import days
from webapp.words.amounts import KG_OF_UNIT, load_text


def _day(day: date | str) -> date:
    return day if isinstance(day, date) else date.fromisoformat(day)


def _instant(at: datetime | str) -> datetime:
    return at if isinstance(at, datetime) else datetime.fromisoformat(at)


def number(value: float) -> str:
    """Write a number with at most two decimals."""
    return format_decimal(round(value, 2), locale=desk.words().cldr)


def day_text(day: date | str) -> str:
    """Write a day."""
    return days.day_text(desk.words(), _day(day))


def day_month(day: date | str) -> str:
    """Write a day without its year, as short as a plot needs."""
    return days.day_month(desk.words(), _day(day))


def instant_text(at: datetime | str) -> str:
    """Write an instant as day and time, in the zone by which the client's days are counted."""
    return days.instant_text(desk.words(), _instant(at), desk.zone())


def time_text(at: datetime | str) -> str:
    """Write an instant as a time of day, in the zone by which the client's days are counted."""
    return days.time_text(desk.words(), _instant(at), desk.zone())


def ago(at: datetime | str, now: datetime) -> str:
    """Write how long ago an instant was."""
    passed = max(now - _instant(at), timedelta(seconds=1))
    return format_timedelta(-passed, add_direction=True, locale=desk.words().cldr)


def shown(response: str) -> str:
    """Return the name of a response that people read; it is one of nine."""
    return SHOWN[response]


FILTERS = (number, day_text, day_month, instant_text, time_text, ago, shown)


def movement_names(routine: Mapping[str, Any] | None = None) -> dict[str, str]:
    """Return the name of every movement, by id; where a routine is given, its own movements have theirs."""
    own = routine.get("own", ()) if routine else ()
    shipped = {id_: desk.words().say(movement.name) for id_, movement in the_shelf().movements.items()}
    return shipped | {slot_of(each["id"], each["like"], the_shelf()): each["name"] for each in own}


def weights_said(weights: list[Mapping[str, Any]]) -> str:
    """Write weights with the numbers and units that were entered, without the bare hand."""
    words, loads = desk.words(), [each for each in weights if each["value"]]
    texts = [load_text(words, each["value"] * KG_OF_UNIT[each["unit"]], [each]) for each in loads]
    return words.listed(texts) or load_text(words, 0.0)


def _notices() -> list[tuple[str, str]]:
    parted = (str(message).partition("\n") for message in get_flashed_messages())
    return [(code, named) for code, _, named in parted]


def every_page() -> dict[str, Any]:
    """Return the values for every page: languages, practitioner, form token, notices, which of them mean that nothing was done, instant, flared rating."""
    return {
        "locale": desk.locale(),
        "languages": desk.served_languages(),
        "practitioner": g.get("practitioner"),
        "csrf_token": generate_csrf,
        "notices": _notices(),
        "nothing_done": NOTHING_DONE,
        "now": desk.now(),
        "handed_to_me": desk.handed_to_me,
        "of_my_password": desk.of_my_password,
        "rated_flared": FLARED_RATING.value,
    }

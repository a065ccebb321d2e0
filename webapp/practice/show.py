"""How the pages write numbers, days and instants, and what every page of the site can ask for."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

from babel.dates import format_date, format_datetime, format_time, format_timedelta
from babel.numbers import format_decimal
from flask import g, get_flashed_messages
from flask_wtf.csrf import generate_csrf

from webapp.dosing.responses import SHOWN
from webapp.practice import blueprint, desk


def _day(day: date | str) -> date:
    return day if isinstance(day, date) else date.fromisoformat(day)


def _instant(at: datetime | str) -> datetime:
    return at if isinstance(at, datetime) else datetime.fromisoformat(at)


@blueprint.app_template_filter("number")
def number(value: float) -> str:
    """Write a number with at most two decimals."""
    return format_decimal(round(value, 2), locale=desk.words().cldr)


@blueprint.app_template_filter("day_text")
def day_text(day: date | str) -> str:
    """Write a day in full, such as 25 November 2026."""
    return format_date(_day(day), "long", locale=desk.words().cldr)


@blueprint.app_template_filter("short_day")
def short_day(day: date | str) -> str:
    """Write a day as weekday, number and month."""
    return format_date(_day(day), "EEE d MMM", locale=desk.words().cldr)


@blueprint.app_template_filter("instant_text")
def instant_text(at: datetime | str) -> str:
    """Write an instant as day and time, UTC."""
    return format_datetime(_instant(at), "d MMM y, HH:mm 'UTC'", tzinfo=UTC, locale=desk.words().cldr)


@blueprint.app_template_filter("time_text")
def time_text(at: datetime | str) -> str:
    """Write an instant as a time of day, UTC."""
    return format_time(_instant(at), "HH:mm 'UTC'", tzinfo=UTC, locale=desk.words().cldr)


@blueprint.app_template_filter("ago")
def ago(at: datetime | str, now: datetime) -> str:
    """Write how long ago an instant was."""
    passed = max(now - _instant(at), timedelta(seconds=1))
    return format_timedelta(-passed, add_direction=True, locale=desk.words().cldr)


@blueprint.app_template_filter("shown")
def shown(response: str) -> str:
    """Return the one of nine names under which people read a response."""
    return SHOWN[response]


def _notices() -> list[tuple[str, str]]:
    parted = (str(message).partition("\n") for message in get_flashed_messages())
    return [(code, named) for code, _, named in parted]


@blueprint.context_processor
def every_page() -> dict[str, Any]:
    """Give each page its language, its practitioner, its token and what there is to say."""
    return {
        "locale": desk.locale(),
        "direction": desk.words().direction,
        "practitioner": g.get("practitioner"),
        "csrf_token": generate_csrf,
        "notices": _notices(),
        "now": desk.now(),
    }

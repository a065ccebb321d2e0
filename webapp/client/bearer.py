"""The phone that a request's cookie stands for, and how long that cookie lasts.

Knows the request and the clock. Only this module finds the client of a request.
"""

from datetime import datetime, timedelta
from typing import Any

from flask import Response, current_app, request

from webapp.client.http_json import RefusedError
from webapp.records import devices
from webapp.records.database import instant
from webapp.records.devices import Bearer

# A phone may stay unused for half a year. Browsers keep a cookie for 400 days at most.
IDLE = timedelta(days=180)
LONGEST = timedelta(days=400)
RENEWED_EACH = timedelta(hours=20)


def service() -> Any:
    """Return the running program's settings, clock and records."""
    return current_app.extensions["halfturn"]


def bearer() -> Bearer:
    """Return the phone and the client of this request.

    Raises:
        RefusedError: 401 if the cookie stands for no phone, or for a phone that was revoked or unused too long. 503 for a
            phone that waits to be confirmed after a restore: it may have been revoked after the copy was made, so it may
            not send or receive anything.
    """
    found = stranger_or_not()
    if found.device.to_confirm:
        raise RefusedError(503, "to_confirm")
    return found


def stranger_or_not() -> Bearer:
    """Return the phone and the client of this request, also for a phone that waits to be confirmed; such a phone may leave.

    Raises:
        RefusedError: 401 if the cookie stands for no phone, or for a phone that was revoked or unused too long.
    """
    token = request.cookies.get(service().settings.device_cookie, "")
    found = find_bearer(token) if token else None
    if found is None:
        raise RefusedError(401, "not_joined")
    return found


def find_bearer(token: str) -> Bearer | None:
    """Return the phone and the client that a token stands for, or None."""
    now = service().clock()
    return devices.bearer_of(service().db(), token, now - IDLE, now - LONGEST)


def is_due(who: Bearer, now: datetime) -> bool:
    """Whether it is time to renew a phone's cookie."""
    return who.device.seen_at < instant(now - RENEWED_EACH)


def give_cookie(response: Response, token: str) -> None:
    """Set the phone's cookie: persistent, hidden from scripts, sent only to this site."""
    settings = service().settings
    response.set_cookie(
        settings.device_cookie,
        token,
        max_age=LONGEST,
        secure=settings.is_secure,
        httponly=True,
        samesite="Lax",
    )


def renew_cookie(response: Response) -> None:
    """Set the phone's cookie again, so that it lasts its full time from now."""
    give_cookie(response, request.cookies[service().settings.device_cookie])


def take_cookie(response: Response) -> None:
    """Delete the phone's cookie."""
    settings = service().settings
    response.delete_cookie(settings.device_cookie, secure=settings.is_secure, httponly=True, samesite="Lax")

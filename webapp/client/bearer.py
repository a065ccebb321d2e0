"""Who is speaking: the phone behind the cookie, and how long that cookie lasts.

Knows the request and the clock; a client is reached only through here.
"""

from datetime import datetime, timedelta
from typing import Any

from flask import Response, current_app, request

from webapp.client.http_json import RefusedError
from webapp.records import devices
from webapp.records.database import instant
from webapp.records.devices import Bearer

# A phone may lie in a drawer for half a year; browsers keep no cookie longer than 400 days.
IDLE = timedelta(days=180)
LONGEST = timedelta(days=400)
RENEWED_EACH = timedelta(hours=20)


def service() -> Any:
    """Give the running program's settings, clock and records."""
    return current_app.extensions["halfturn"]


def bearer() -> Bearer:
    """Find who is speaking.

    Raises:
        RefusedError: 401, where no phone stands behind the cookie, or no longer; 503 for one that is to be confirmed
            after a restore: it may have been revoked since the copy was made, so nothing goes in or out before.
    """
    found = stranger_or_not()
    if found.device.to_confirm:
        raise RefusedError(503, "to_confirm")
    return found


def stranger_or_not() -> Bearer:
    """Find who is speaking, to be confirmed or not, as for leaving.

    Raises:
        RefusedError: 401, where no phone stands behind the cookie, or no longer.
    """
    token = request.cookies.get(service().settings.device_cookie, "")
    found = find_bearer(token) if token else None
    if found is None:
        raise RefusedError(401, "not_joined")
    return found


def find_bearer(token: str) -> Bearer | None:
    """Find who a token stands for, or None."""
    now = service().clock()
    return devices.bearer_of(service().db(), token, now - IDLE, now - LONGEST)


def is_due(who: Bearer, now: datetime) -> bool:
    """Say whether a phone's cookie should be given a new lease."""
    return who.device.seen_at < instant(now - RENEWED_EACH)


def give_cookie(response: Response, token: str) -> None:
    """Set the phone's cookie: kept, out of reach of scripts, sent to this site only."""
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
    """Give the phone's cookie a new lease."""
    give_cookie(response, request.cookies[service().settings.device_cookie])


def take_cookie(response: Response) -> None:
    """Make the phone forget its cookie."""
    settings = service().settings
    response.delete_cookie(settings.device_cookie, secure=settings.is_secure, httponly=True, samesite="Lax")

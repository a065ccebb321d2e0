"""The browsers that a practitioner has signed in with before; each has a signed cookie that says so.

After OWASP, "Slow Down Online Guessing Attacks with Device Cookies"
(owasp.org/www-community/Slow_Down_Online_Guessing_Attacks_with_Device_Cookies): guesses from other browsers never lock
out a browser that has signed in before. The cookie alone does not sign anybody in.
"""

import secrets
from datetime import timedelta

from flask import current_app, request
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from webapp.practice import desk

# Browsers keep a cookie for 400 days at most.
LASTS = timedelta(days=400)
NAME_BYTES = 12
# Several practitioners may share a browser; the cookie names those who signed in last.
MOST_PEOPLE = 20


def _cookie() -> str:
    return desk.settings().cookie("known")


def _signer() -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), salt="known browser")


def _read_cookie() -> tuple[str, list[int]]:
    """Return the browser's name and the practitioners who have signed in with it; "" and none without a valid cookie."""
    try:
        name, people = _signer().loads(request.cookies.get(_cookie(), ""))
    except BadSignature:
        return "", []
    return name, people


def name_for(practitioner: int) -> str:
    """Return the browser's name if this practitioner has signed in with it before, else ""."""
    name, people = _read_cookie()
    return name if practitioner in people else ""


def remember(response: Response, practitioner: int) -> None:
    """Set a cookie that says that this practitioner has signed in with this browser."""
    name, people = _read_cookie()
    content = (
        name or secrets.token_urlsafe(NAME_BYTES),
        [practitioner, *(person for person in people if person != practitioner)],
    )
    signed = _signer().dumps((content[0], content[1][:MOST_PEOPLE]))
    response.set_cookie(
        _cookie(),
        str(signed),
        max_age=LASTS,
        path="/",
        httponly=True,
        samesite="Lax",
        secure=desk.settings().is_secure,
    )

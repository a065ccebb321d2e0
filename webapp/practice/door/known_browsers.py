"""The browsers that a practitioner has signed in with before: a signed cookie tells them from strangers.

After OWASP, "Slow Down Online Guessing Attacks with Device Cookies"
(owasp.org/www-community/Slow_Down_Online_Guessing_Attacks_with_Device_Cookies): guesses of strangers count against
strangers, so that they never shut out a browser that once knew the password. The cookie opens nothing by itself.
"""

import secrets
from datetime import timedelta

from flask import current_app, request
from itsdangerous import BadSignature, URLSafeSerializer
from werkzeug.wrappers import Response

from webapp.practice import desk

# As long as a browser keeps a cookie.
LASTS = timedelta(days=400)
NAME_BYTES = 12
# A desk that several share: whoever signed in here last.
MOST_PEOPLE = 20


def _cookie() -> str:
    return desk.settings().cookie("known")


def _signer() -> URLSafeSerializer:
    return URLSafeSerializer(str(current_app.secret_key), salt="known browser")


def _told() -> tuple[str, list[int]]:
    """Return the browser's own name and whom it is known to; "" and nobody where no cookie of ours says so."""
    try:
        name, people = _signer().loads(request.cookies.get(_cookie(), ""))
    except BadSignature:
        return "", []
    return name, people


def name_for(practitioner: int) -> str:
    """Return the browser's name if this practitioner has signed in with it before, else ""."""
    name, people = _told()
    return name if practitioner in people else ""


def remember(response: Response, practitioner: int) -> None:
    """Have the browser remember that this practitioner signed in with it."""
    name, people = _told()
    told = (name or secrets.token_urlsafe(NAME_BYTES), [practitioner, *(one for one in people if one != practitioner)])
    signed = _signer().dumps((told[0], told[1][:MOST_PEOPLE]))
    response.set_cookie(
        _cookie(),
        str(signed),
        max_age=LASTS,
        path="/",
        httponly=True,
        samesite="Lax",
        secure=desk.settings().is_secure,
    )

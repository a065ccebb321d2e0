"""Requests around joining: whose invitation a link is, and a code with which the home-screen app joins the same client.

These requests use up no invitation. Joining itself is in api.py.
"""

import math

from flask import Response, request

from webapp.client import blueprint
from webapp.client.bearer import bearer, find_bearer, service
from webapp.client.http_json import RefusedError, as_json, read_json
from webapp.records import invitations
from webapp.records.invitations import HOME_CODE_LASTS
from webapp.sync.phone.group_joining import is_of_group, read_link
from webapp.sync.phone.joining import Joined, NotAdmittedError
from webapp.wire.sync import HomeCode, LinkOffer, LinkRequest

STATUS_OF = {
    "unknown_link": 400,
    "unknown_code": 400,
    "joined_to_another": 409,
    "used": 410,
    "over": 410,
    "too_many_tries": 429,
}


@blueprint.post("/api/invitation")
def invitation() -> Response:
    """Return whose invitation a link is, and whether this phone has joined. By POST, so that no log keeps the token."""
    try:
        token = read_json(LinkRequest).token
        offer = read_link(service().db(), token, service().clock(), joined_already())
    except NotAdmittedError as error:
        raise not_admitted(error) from error
    return as_json(
        LinkOffer(
            practitioner=offer.practitioner, arms=offer.arms, is_joined=offer.is_joined, is_group=is_of_group(token)
        )
    )


@blueprint.post("/api/code")
def code() -> Response:
    """Make a code for another app of the same client, such as the home-screen app, which has its own storage."""
    made = invitations.make_code(service().db(), bearer().client, service().clock(), HOME_CODE_LASTS)
    return as_json(HomeCode(code=made.code, seconds=int(HOME_CODE_LASTS.total_seconds())))


def joined_already() -> Joined | None:
    """Return the joined phone of this browser, by its cookie, or None."""
    token = request.cookies.get(service().settings.device_cookie, "")
    who = find_bearer(token) if token else None
    return Joined(who.client, who.device.id, token) if who else None


def not_admitted(error: NotAdmittedError) -> RefusedError:
    """Return the refusal for a phone that may not join."""
    seconds = math.ceil(error.wait.total_seconds())
    gaps = {"seconds": seconds, "minutes": -(-seconds // 60)} if seconds else {}
    return RefusedError(STATUS_OF[error.code], error.code, **gaps)

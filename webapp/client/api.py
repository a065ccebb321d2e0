"""The phone's requests in JSON: join, who am I, leave, sync.

Each answer is for the client whom the phone's cookie stands for; no address names another client.
"""

import logging
import math
from datetime import date

from flask import Response, g, request

from webapp.client import blueprint
from webapp.client.bearer import (
    bearer,
    find_bearer,
    give_cookie,
    is_due,
    renew_cookie,
    service,
    stranger_or_not,
    take_cookie,
)
from webapp.client.http_json import RefusedError, as_json, read_json
from webapp.client.invited import joined_already, not_admitted
from webapp.events.kinds import FIRST_DAY, LAST_DAY, EventError
from webapp.events.values import day
from webapp.records import devices
from webapp.records.devices import Bearer
from webapp.sync.limits.bounds import TooMuchError
from webapp.sync.log.take import VALUE_SHOWN
from webapp.sync.phone.group_joining import join_by_link
from webapp.sync.phone.joining import Joined, NotAdmittedError, PhoneTold, join_by_code
from webapp.sync.phone.serve import PhoneBatch, Speaker, answer_sync
from webapp.wire.sync import FORMAT, MOST_EVENTS, ClientId, JoinedAs, JoinRequest, SyncRequest

_log = logging.getLogger(__name__)

MOST_BODY_BYTES = 400_000
NAME_LENGTH = 80
MARK_LENGTH = 64


@blueprint.post("/api/join")
def join_phone() -> Response:
    """Join a phone by an invitation; from then on the phone's cookie is its only key."""
    join_request = read_json(JoinRequest)
    joined = _admit(join_request)
    who = find_bearer(joined.token)
    assert who is not None, "a phone that has just joined is known"
    response = as_json(_joined_as(who))
    give_cookie(response, joined.token)
    _log.info("phone %s joined client %s", joined.device, who.client_id)
    return response


def _joined_as(who: Bearer) -> JoinedAs:
    return JoinedAs(client=ClientId(id=who.client_id), device=who.device.id, locale=_locale(who.locale))


def _admit(join_request: JoinRequest) -> Joined:
    db, now = service().db(), service().clock()
    first_name = join_request.first_name.strip()
    phone = PhoneTold(join_request.device_name.strip()[:NAME_LENGTH], join_request.agreed[:MARK_LENGTH], first_name)
    already = joined_already()
    try:
        if join_request.token:
            return join_by_link(db, join_request.token, phone, now, already, join_request.key)
        if join_request.code:
            address = request.remote_addr or "nowhere"
            return join_by_code(db, service().tries, join_request.code, phone, address, now, already)
    except NotAdmittedError as error:
        raise not_admitted(error) from error
    raise RefusedError(400, "no_invitation")


@blueprint.get("/api/me")
def me() -> Response:
    """Return the client and the phone whom the cookie stands for."""
    who = bearer()
    response = as_json(_joined_as(who))
    _renew_if_due(who, response)
    return response


@blueprint.post("/api/leave")
def leave() -> Response:
    """Revoke the phone at its own request; events that it has not sent stay on the phone."""
    who = stranger_or_not()
    devices.revoke(service().db(), who.client, who.device.id, service().clock())
    response = as_json({"left": True})
    take_cookie(response)
    return response


@blueprint.post("/api/sync")
def sync() -> Response:
    """Store a phone's events, and answer with everything that is new for the phone."""
    who, sync_request = bearer(), read_json(SyncRequest)
    locale = g.phone_locale = _locale(sync_request.locale, who.locale)
    _check(sync_request, who)
    speaker = Speaker(who.client, who.client_id, who.client_name, who.device.id)
    try:
        reply = answer_sync(service().db(), speaker, _phone_batch(sync_request, locale), service().clock())
    except TooMuchError as error:
        raise RefusedError(429, "too_much_today", seconds=math.ceil(error.wait.total_seconds())) from error
    response = as_json(reply)
    _renew_if_due(who, response)
    return response


def _check(sync_request: SyncRequest, who: Bearer) -> None:
    if sync_request.format != FORMAT:
        raise RefusedError(400, "bad_format", format=sync_request.format)
    if sync_request.client != who.client_id:
        raise RefusedError(409, "another_client")
    if len(sync_request.events) > MOST_EVENTS:
        raise too_large()


def too_large() -> RefusedError:
    """Return the refusal of a request with too many events or bytes."""
    return RefusedError(413, "too_large", events=MOST_EVENTS, kilobytes=MOST_BODY_BYTES // 1000)


def _phone_batch(sync_request: SyncRequest, locale: str) -> PhoneBatch:
    raws = [bytes(raw) for raw in sync_request.events]
    return PhoneBatch(
        _day(sync_request.on), locale, sync_request.epoch, max(0, sync_request.cursor), sync_request.bundle, raws
    )


def _day(text: str) -> date:
    try:
        on = day(text, "on")
    except EventError:
        on = date.min
    if not FIRST_DAY <= on <= LAST_DAY:
        raise RefusedError(400, "bad_day", value=text[:VALUE_SHOWN], first=FIRST_DAY, last=LAST_DAY)
    return on


def _locale(*wanted: str) -> str:
    """Return the first of these languages that is served, else the default."""
    served = service().settings.locales
    return next((tag for tag in wanted if tag in served), served[0])


def _renew_if_due(who: Bearer, response: Response) -> None:
    if is_due(who, service().clock()):
        devices.note_seen(service().db(), who.device.id, service().clock())
        renew_cookie(response)

"""A calendar that a client's own calendar program follows by a secret address. It holds times and a neutral title, nothing else."""

import hashlib
from datetime import datetime

import msgspec
from flask import Response, abort

from webapp.client import blueprint
from webapp.client.bearer import bearer, service
from webapp.client.http_json import as_json, read_json
from webapp.client.reminders import filled, said_reminder
from webapp.events.course_set import course_on
from webapp.records import feeds
from webapp.sync.case.finishing import courses_of
from webapp.sync.log.local_day import local_day, zone_of
from webapp.wire.sync import FeedAddress, FeedRequest

UID_LENGTH = 32


@blueprint.post("/api/feed")
def change_feed() -> Response:
    """Store the times of the client's calendar, and return the key of its address; with no time at all, end the address."""
    who, feed_request = bearer(), read_json(FeedRequest)
    times = {name: time for name, time in msgspec.structs.asdict(feed_request.times).items() if time}
    db = service().db()
    if not times:
        feeds.end(db, who.client, feed_request.key)
        return as_json(FeedAddress(key=""))
    return as_json(FeedAddress(key=feeds.keep(db, who.client, feed_request.key, times, service().clock())))


@blueprint.get("/calendar/<key>.ics")
def feed(key: str) -> Response:
    """Return the calendar at an address, to anybody who has the address. Once the course has ended, it reminds no more."""
    found = feeds.find(service().db(), key)
    if found is None:
        abort(404)
    uids = {_uid(found.public_id, name): time for name, time in found.times.items()}
    changed_at = datetime.fromisoformat(found.changed_at)
    locale = found.locale if found.locale in service().settings.locales else service().settings.locales[0]
    courses = courses_of(service().db(), found.client)
    now = course_on(courses, local_day(service().clock(), zone_of(service().db(), found.client)))
    until = now.since if now.to == "ended" else None
    text = filled(said_reminder(locale), uids, changed_at, found.sequence + len(courses), until)
    response = Response(text, mimetype="text/calendar")
    response.headers["Cache-Control"] = "no-store"
    return response


def _uid(public_id: str, name: str) -> str:
    """Return an id that stays the same for a client's reminder and does not tell the client's own."""
    return hashlib.sha256(f"{public_id} {name}".encode()).hexdigest()[:UID_LENGTH]

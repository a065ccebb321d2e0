"""The pages of groups: all of them, and one with its link, its counts and those who need the practitioner."""

from datetime import date, datetime, timedelta
from urllib.parse import urljoin
from zoneinfo import ZoneInfo

import segno
from flask import abort, redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.practice.groups.standing import standing_of
from webapp.records import groups
from webapp.records.groups import GroupInvitation

# The white border round a QR code, in modules; a camera needs it.
QUIET_BORDER = 4


def _own(group_id: str) -> GroupInvitation:
    """Return one of the practitioner's own groups; 404 for any other."""
    return groups.find(desk.records(), desk.signed_in().id, group_id) or abort(404)


def _last_day(group: GroupInvitation) -> date:
    """Return the last day on which somebody may join, in the zone of the practice."""
    return (datetime.fromisoformat(group.ends_at).astimezone(ZoneInfo(desk.zone())) - timedelta(minutes=1)).date()


def every_group() -> str:
    """List the practitioner's groups, the newest first."""
    found = groups.of_practitioner(desk.records(), desk.signed_in().id)
    return render_template(
        "groups/every.html", last_day=_last_day, groups=[(group, group.is_open(desk.now())) for group in found]
    )


def show(group_id: str) -> str:
    """Show one group."""
    group = _own(group_id)
    locale = group.locale if len(desk.settings().locales) > 1 else None
    link = f"{urljoin(desk.settings().origin, url_for('client.join', locale=locale))}#{group.token}"
    return render_template(
        "groups/page.html",
        group=group,
        last_day=_last_day,
        is_open=group.is_open(desk.now()),
        link=link,
        qr=segno.make(link, error="m").svg_data_uri(scale=6, border=QUIET_BORDER, dark="#000", light="#fff"),
        standing=standing_of(group),
        form=ButtonForm(),
    )


def close(group_id: str) -> Response:
    """Close a group: nobody joins any more; who has joined goes on."""
    group = _own(group_id)
    if ButtonForm().validate():
        groups.close(desk.records(), desk.signed_in().id, group.public_id, desk.now())
        desk.say_later("group_closed")
    else:
        desk.say_later("send_again")
    return redirect(url_for("practice.groups.show", group_id=group.public_id), 303)

"""The pages of groups: all of them, and one with its link, its counts and those who need the practitioner."""

from datetime import date, datetime, timedelta
from functools import partial
from types import SimpleNamespace
from urllib.parse import urljoin
from zoneinfo import ZoneInfo

import segno
from flask import abort, jsonify, redirect, render_template, url_for
from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.practice.groups.arrivals import arrivals_of
from webapp.practice.groups.days import group_days, trained_since
from webapp.practice.groups.drawing import group_plot, mornings_plot
from webapp.practice.groups.standing import Member, standing_of
from webapp.practice.plots import strips
from webapp.records import groups, practitioners
from webapp.records.groups import GroupInvitation
from webapp.sync.log.local_day import local_day
from webapp.words.catalogue import words_for
from webapp.words.causes import cause_text, since_text
from webapp.words.paper_slip import group_slip

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


def _link_of(group: GroupInvitation) -> str:
    """Return the group's link; where several languages are served, the page opens in the group's."""
    locale = group.locale if len(desk.settings().locales) > 1 else None
    return f"{urljoin(desk.settings().origin, url_for('client.join', locale=locale))}#{group.token}"


def _square(link: str) -> str:
    return segno.make(link, error="m").svg_data_uri(scale=6, border=QUIET_BORDER, dark="#000", light="#fff")


def show(group_id: str) -> str:
    """Show one group."""
    group, today = _own(group_id), local_day(desk.now(), desk.zone())
    standing, link = standing_of(group), _link_of(group)
    days = group_days(standing.members, today)
    return render_template(
        "groups/page.html",
        group=group,
        last_day=_last_day,
        is_open=group.is_open(desk.now()),
        link=link,
        qr=_square(link),
        standing=standing,
        days=days,
        plot=group_plot(days),
        this_week=trained_since(standing.members, today - timedelta(days=6)),
        mornings=mornings_plot(standing.mornings) if standing.mornings else None,
        arrivals=arrivals_of(group)._asdict(),
        drawn=strips.all_drawn,
        strip_height=strips.HEIGHT,
        said=_said(),
        form=ButtonForm(),
    )


def _said() -> SimpleNamespace:
    """Return the functions that write causes as sentences in the language of the site."""
    words = desk.words()

    def cause(member: Member, number: int = 0) -> str:
        weights = member.case.intake.get("weights", ())
        return cause_text(words, member.causes[number], member.shown.unread_letters, weights)

    return SimpleNamespace(cause=cause, since=partial(since_text, words))


def tell_arrivals(group_id: str) -> Response:
    """Return how many have joined, answer, wait and have been started, as JSON for the page's script."""
    return jsonify(arrivals_of(_own(group_id))._asdict())


def show_slip(group_id: str) -> Response | str:
    """Show the slip to print for a wall or a hand-out; a group that is closed has none."""
    group = _own(group_id)
    if not group.is_open(desk.now()):
        return redirect(url_for("practice.groups.show", group_id=group.public_id), 303)
    link = _link_of(group)
    return render_template(
        "groups/slip.html",
        group=group,
        link=link,
        qr=_square(link),
        slip=group_slip(words_for(group.locale), desk.signed_in().name, _last_day(group)),
        reach=practitioners.told_by(desk.records(), desk.signed_in().id)[1],
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
